"""The events that a class dispatches for others to listen to."""


class EventSource:
    """A base that gives every event in ``__events__`` the handler by its name that Kivy asks for.

    It does nothing: whoever is interested binds to the event. A class that defines a handler keeps it.
    """

    def __init_subclass__(cls, **kwargs):
        super().__init_subclass__(**kwargs)
        for name in vars(cls).get("__events__", ()):
            if not hasattr(cls, name):
                setattr(cls, name, _leave_to_listeners)


def _leave_to_listeners(_, *__) -> None:
    pass
