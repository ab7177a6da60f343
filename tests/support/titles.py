"""Titles that must be words and nothing else on every paper and in every file."""

from __future__ import annotations

TITLES = [
    "12/14 Mill \\ Lane",
    "\"quoted\" 'and' `ticked`",
    "🏠 Roof end",
    "بيت الحجر 12",
    "בית 7 \u202egnal",
    "w" * 300,
    "word " * 60,
    "<script>alert(1)</script>&lt;",
    '\\input{/etc/passwd} $x$ #read("paper.typ") *b* @ref',
    "=cmd()|' /C calc'!A0",
    '=HYPERLINK("http://example.invalid","x")',
    "+1+cmd|'/C calc'!A0",
    "-2+3",
    "@SUM(1)",
    "\t=1+1",
    "\r=1+1",
    "front;=1+1",
    "＝1+1",
    "{=1+1}",
    "%%c 100%% \\U+0041 \\P ^I {\\fArial;x}",
    "_x0041_ &A &P",
    "\x00\x1b[31m\ufffe",
    "",
]
