"""The pages of particulars: one for each stage, one for each kind of thing that is selected."""
