"""How the program looks: colour roles, type scale, and the theme that follows the system."""
