"""Pictures of what was computed: pure functions from records to frozen drawings, which templates render as SVG."""
