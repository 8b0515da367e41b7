"""Numbers of a rig file varied: paths, points, rows, front and outputs."""
