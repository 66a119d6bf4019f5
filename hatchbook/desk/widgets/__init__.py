"""Small reusable widgets. They take values and ready words, and know neither records nor journals."""
