"""How numbers and days read, on paper and on the screens: nothing is claimed beyond what the numbers say."""
