"""Rain on a roof, and what gutters, outlets and downpipes can take of it, by named published methods.

Nothing here guesses rainfall, and no method borrows from another: each has its own area, flow and
capacities, printed with its edition and clause. Formulas, validity and sources: docs/methods.md.
"""
