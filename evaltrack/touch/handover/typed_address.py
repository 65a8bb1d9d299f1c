"""An address and a code as they are typed, digit by digit."""

from dataclasses import dataclass, replace

from evaltrack.device.handover.code import DIGITS

_LONGEST = len("255.255.255.255:65535")


@dataclass(frozen=True)
class Typed:
    """What stands in both fields, and in which of them the next sign goes."""

    address: str = ""
    code: str = ""
    in_code: bool = False

    def press(self, sign: str) -> "Typed":
        """Return it with one more sign, a digit or one of ``.:``; what does not fit there changes nothing."""
        if self.in_code:
            fits = sign.isdigit() and len(self.code) < DIGITS
            return replace(self, code=self.code + sign) if fits else self
        fits = len(self.address) < _LONGEST and not (sign in ".:" and self.address[-1:] in ("", ".", ":"))
        return replace(self, address=self.address + sign) if fits else self

    def erase(self) -> "Typed":
        """Return it without the last sign."""
        if self.in_code:
            return replace(self, code=self.code[:-1])
        return replace(self, address=self.address[:-1])

    @property
    def whole(self) -> bool:
        """Say whether both can be there as a whole."""
        return self.address.count(".") == 3 and len(self.code) == DIGITS
