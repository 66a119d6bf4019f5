"""Where values and codes become sentences in the breeder's language: the only place for words of the trade."""
