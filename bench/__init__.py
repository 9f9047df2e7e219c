"""Side-by-side timings: ``python -m bench`` prints ratios measured in one run, and asserts none."""
