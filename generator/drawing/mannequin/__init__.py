"""Movement figures: joint angles to points, what breaks, how the weight is shared, and the drawing."""
