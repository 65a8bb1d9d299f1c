"""What belongs to this tablet: true sizes, the latch and its code, sound and vibration."""
