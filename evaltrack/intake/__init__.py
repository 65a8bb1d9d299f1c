"""Files that people bring, turned into rink values; every complaint names the file and the line."""
