"""The ties: runs, links, the best set of lines, anchors, crossings and order."""
