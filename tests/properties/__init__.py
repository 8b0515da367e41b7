"""What must hold of every rig: of rigs drawn at random from all that a file may hold."""
