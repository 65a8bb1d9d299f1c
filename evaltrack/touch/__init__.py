"""The touch screens. Kivy is imported here and nowhere else."""
