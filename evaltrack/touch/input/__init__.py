"""Touches and keys as they come from the devices, before a widget gets them."""
