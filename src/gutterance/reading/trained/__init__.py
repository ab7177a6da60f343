"""The trained reader: what notes that people marked word by word teach about other notes.

It reads a note beside the rules, from the same items, and knows nothing of what they decided. `symbols` are
the items as it sees them; `features` what stands around one and what was told before it; `telling` the state
of the telling and what an action does to it; `weights` the trained weights; `listening` reads a note into
claims; `agreeing` holds the claims against the sheet. The weights are made by `tools/train_reader.py`.
"""
