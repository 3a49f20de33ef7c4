"""Rules about wood and outlines: cuts, holes, joints, and the fits that were asked for."""
