"""How well numbers and lengths of others' published test cases are read: right, asked, wrong, missed.

    python benchmarks/outside_lengths.py CASES.jsonl [--show] [--beside PYTHON]

CASES.jsonl has one case in a line: `source`, `kind` (length, number, range, transcript), `text`, `expected`
(values as fractions, lengths in inches), `scope` (in or out, with why). The file is not part of the project.

right   the same values, none with a doubt
asked   the right value is there, and a doubt says that somebody must look
missed  a value that the case states was not read
wrong   a value was read, without a doubt, that the case does not state

How each kind is held against the case:
* length: the lengths with a unit of their own, in order, in inches; parts said one after the other may be
  one length.
* number: the plain numbers in order. A case marked invalid is right where its text is not read as one number.
* range: the set of values, ranks too (bounds are not part of a tape language). Where the case says that there
  is no range, it is right when no range is read.
* transcript: the numbers of the text against the numbers of the expected transcript.

--beside reads the same texts with three general-purpose libraries in the same run, in an environment of
their own (PYTHON is its interpreter; `outside_others.py` says how it is made). They have no way to ask, so
what they read is right, missed or wrong.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
from collections import Counter
from fractions import Fraction
from pathlib import Path
from typing import Any

from gutterance.measure.numerals import Number, read_numbers
from gutterance.measure.tape import find_lengths, read_lengths

VERDICTS = ("right", "asked", "missed", "wrong")


def length_verdict(case: dict[str, Any]) -> str:
    """Verdict on a case of kind length."""
    readings = read_lengths(case["text"])
    expected = [Fraction(one["inches"]) for one in case["expected"] if "inches" in one]
    if any("inches" not in one for one in case["expected"]):
        # "9m" is left open between metres and miles in the case: on a tape it is metres
        expected = [Fraction(one["value"]) * Fraction(5000, 127) for one in case["expected"]]
    read = [reading.length.inches for reading in readings]
    doubt = any(reading.doubts for reading in readings)
    if read == expected or (read and len(read) == 1 and sum(expected) == read[0]):
        return "asked" if doubt else "right"
    remembered = {length.inches for reading in readings for length, _ in reading.could_be}
    if doubt and set(expected) <= {*read, *remembered}:
        return "asked"
    if doubt and len(read) == 1 and read[0] == sum(expected):
        return "asked"
    return "missed" if set(read) < set(expected) else "wrong"


def number_verdict(case: dict[str, Any]) -> str:
    """Verdict on a case of kind number."""
    numbers = read_numbers(case["text"])
    if case.get("invalid"):
        whole = len(numbers) == 1 and numbers[0].start == 0 and numbers[0].end == len(case["text"])
        return "wrong" if whole else "right"
    return _compare(numbers, [Fraction(one["value"]) for one in case["expected"]])


def range_verdict(case: dict[str, Any]) -> str:
    """Verdict on a case of kind range."""
    if not case["expected"]:
        return "wrong" if any(found.also for found in find_lengths(case["text"])) else "right"
    if any(one.get("unit") for one in case["expected"]):
        found = read_lengths(case["text"])
        read = {one.length.inches for one in found} | {
            length.inches for one in found for length, _ in one.could_be
        }
        expected = {Fraction(one["inches"]) for one in case["expected"]}
        if not expected <= read:
            return "missed" if len(read) < len(expected) else "wrong"
        return "asked" if any(one.doubts for one in found) else "right"
    read = {number.value for number in read_numbers(case["text"], ordinals=True)}
    expected = {Fraction(one["value"]) for one in case["expected"]}
    if read == expected:
        return "right"
    return "missed" if read < expected else "wrong"


def transcript_verdict(case: dict[str, Any]) -> str:
    """Verdict on a case of kind transcript."""
    expected = [number.value for number in read_numbers(case["expected_text"], ordinals=True)]
    return _compare(read_numbers(case["text"], ordinals=True), expected)


def _compare(numbers: list[Number], expected: list[Fraction]) -> str:
    read = [number.value for number in numbers]
    doubt = any(number.doubts for number in numbers)
    if read == expected:
        return "asked" if doubt else "right"
    if doubt and set(expected) <= {*read, *(value for number in numbers for value in number.could_be)}:
        return "asked"
    return "missed" if len(read) < len(expected) and all(value in expected for value in read) else "wrong"


VERDICT_OF = {
    "length": length_verdict,
    "number": number_verdict,
    "range": range_verdict,
    "transcript": transcript_verdict,
}


def verdict_on_other(case: dict[str, Any], read: dict[str, list[float]]) -> str:
    """Verdict on what another library read in a case: the same rules, with floats near enough."""
    if case.get("invalid"):
        return "wrong" if len(read["numbers"]) == 1 else "right"
    lengths = case["kind"] == "length" or any(one.get("unit") for one in case["expected"])
    if case["kind"] == "transcript":
        expected = [one.value for one in read_numbers(case["expected_text"], ordinals=True)]
    elif lengths:
        expected = [Fraction(one.get("inches") or one["value"]) for one in case["expected"]]
    else:
        expected = [Fraction(one["value"]) for one in case["expected"]]
    wanted, found = [float(one) for one in expected], read["lengths" if lengths else "numbers"]
    if case["kind"] == "range":
        if not wanted:
            return "right"  # these readers look for values, and so can find no range where none is
        wanted, found = list(set(wanted)), list(set(found))
    parts = lengths and found and _near([sum(found)], [sum(wanted)])
    if parts or _near(sorted(found), sorted(wanted)):
        return "right"
    return "missed" if all(any(_near([one], [other]) for other in wanted) for one in found) else "wrong"


def _near(read: list[float], wanted: list[float]) -> bool:
    return len(read) == len(wanted) and all(
        abs(one - other) <= 1e-6 * max(1.0, abs(other)) for one, other in zip(read, wanted, strict=True)
    )


def print_others(cases: list[dict[str, Any]], python: str) -> None:
    """A row for each library that the interpreter `python` has."""
    script = Path(__file__).with_name("outside_others.py")
    texts = json.dumps([case["text"] for case in cases])
    done = subprocess.run([python, str(script)], input=texts, capture_output=True, text=True, check=False)
    if done.returncode:
        sys.exit(f"{python}: {done.stderr.strip() or 'failed'}: make the environment as {script.name} says")
    for name, answers in json.loads(done.stdout).items():
        if isinstance(answers, str):
            print(f"{name:32} not there: {answers}")
            continue
        count = Counter(verdict_on_other(case, read) for case, read in zip(cases, answers, strict=True))
        print(f"{name:32} {count.total():5} " + " ".join(f"{count[verdict]:6}" for verdict in VERDICTS))


def main() -> None:
    """Score the cases and print the table."""
    parser = argparse.ArgumentParser(description="Score length and number reading on published test cases.")
    parser.add_argument("cases", type=Path, help="a JSONL file of cases")
    parser.add_argument("--show", action="store_true", help="print each case that is not right")
    parser.add_argument("--beside", metavar="PYTHON", help="an interpreter that has the other libraries")
    arguments = parser.parse_args()
    in_scope: list[dict[str, Any]] = []
    counts: dict[tuple[str, str], Counter[str]] = {}
    out_of_scope = 0
    try:
        text = arguments.cases.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        sys.exit(f"{arguments.cases}: cannot be read ({error}); give the path of a JSONL file of cases")
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip():
            continue
        try:
            case = json.loads(line)
        except json.JSONDecodeError as error:
            sys.exit(f"{arguments.cases}, line {number}: not JSON ({error}); mend or remove the line")
        if case["scope"] != "in":
            out_of_scope += 1
            continue
        in_scope.append(case)
        verdict = VERDICT_OF[case["kind"]](case)
        counts.setdefault((case["source"], case["kind"]), Counter())[verdict] += 1
        if arguments.show and verdict != "right":
            read = (
                [str(one.length.inches) for one in read_lengths(case["text"])]
                if case["kind"] == "length"
                else [str(one.value) for one in read_numbers(case["text"])]
            )
            wanted = case.get("expected_text") or [
                one.get("inches") or one["value"] for one in case["expected"]
            ]
            print(f"{verdict:7} {case['id']}: {case['text']!r}\n        read {read}, expected {wanted}")
    total: Counter[str] = Counter()
    print(f"{'source':20} {'kind':11} {'cases':>5} " + " ".join(f"{verdict:>6}" for verdict in VERDICTS))
    for (source, kind), count in sorted(counts.items()):
        total += count
        print(
            f"{source:20} {kind:11} {count.total():5} "
            + " ".join(f"{count[verdict]:6}" for verdict in VERDICTS)
        )
    print(f"{'all in scope':32} {total.total():5} " + " ".join(f"{total[verdict]:6}" for verdict in VERDICTS))
    if arguments.beside:
        print_others(in_scope, arguments.beside)
    good = total["right"] + total["asked"]
    share = 100 * good / total.total() if total else 0.0
    print(f"right or asked: {good} of {total.total()} = {share:.1f} %; out of scope: {out_of_scope}")


if __name__ == "__main__":
    main()
