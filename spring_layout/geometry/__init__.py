"""Arrays and shapely shapes only: the outline, the nail line, spacing, crossings, curves."""
