"""Long work off the screens' thread: on another thread, or in the process beside the app."""
