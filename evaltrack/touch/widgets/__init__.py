"""What every screen is made of: palette, fonts, drawing, buttons."""
