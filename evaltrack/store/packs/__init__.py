"""What several tablets noted of one season, written to a pack and joined from others."""
