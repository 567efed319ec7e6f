"""The look: colours, sizes and icons, all of them drawn for this program."""
