"""How far two colours stand apart (WCAG 2.2, contrast ratio)."""


def contrast(one, other) -> float:
    """Return the contrast ratio of two colours with parts from 0 to 1: 1 to 21, by relative luminance."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(code) -> float:
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in code[:3]]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
