"""The sheet of one egg: its fields, its story, and the forms of what is in it."""
