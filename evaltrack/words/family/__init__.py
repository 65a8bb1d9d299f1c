"""What one family's page says: from standings to whole sentences. Plain values, no input or output."""
