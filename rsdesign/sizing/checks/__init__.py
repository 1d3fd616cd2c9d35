"""Every check of a sizing in words: what a careful neighbor would ask about each part."""
