"""Drawings for the crew: the plan, elevation strips and downpipes, as scenes that SVG and PDF both show."""
