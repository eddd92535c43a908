"""Sentences for training: random words, workshop talk, commands and figures, each with its phones.

The hold phrases that the bench tests are never spoken whole in training; their single words may be.
"""

import json
import random
import re
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
VOCABULARY = json.loads((HERE.parent / "vocabulary.json").read_text())

PHONES = (
    "AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH"
).split()
BLANK = 0  # index of the CTC blank; phone i of PHONES is i + 1

# Words the CMU dictionary lacks or that aviation pronounces its own way (ICAO Annex 10 vol. II, 5.2.1.4.3, from memory).
OWN = {
    "tree": "T R IY",
    "fower": "F OW ER",
    "fife": "F AY F",
    "niner": "N AY N ER",
    "tyre": "T AY ER",
    "torqued": "T AO R K T",
    "refitted": "R IY F IH T IH D",
    "routed": "R UW T IH D",
    "unlock": "AH N L AA K",
    "circlip": "S ER K L IH P",
    "centred": "S EH N T ER D",
    "greased": "G R IY S T",
    "unclip": "AH N K L IH P",
    "read": "R IY D",
}


# What the second output of the model tells apart: whole commands, said alone, and the words of figures; 0 is "none of these".
TOKENS = [w.lower() for w in VOCABULARY["stop"] + VOCABULARY["words"] if not w.startswith("number ")] + ["number"] + VOCABULARY["figures"]


SOUND_ALIKE = {"too": "two", "fore": "four", "won": "one", "ate": "eight"}


FIGURES = frozenset(TOKENS.index(w) + 1 for w in VOCABULARY["figures"])
STOPS = frozenset(TOKENS.index(w) + 1 for w in VOCABULARY["stop"])


def tokens_of(text: str) -> list[int]:
    """Indices of TOKENS plus one, in order, where the text is a command or a row of figure words and nothing else.

    In other talk only the stopping command counts, so the second output learns to tell a command from talk with its words.
    """
    words, out, at, others = [SOUND_ALIKE.get(w, w) for w in text.lower().split()], [], 0, False
    while at < len(words):
        for size in (4, 3, 2, 1):
            phrase = " ".join(words[at : at + size])
            if at + size <= len(words) and phrase in TOKENS:
                out.append(TOKENS.index(phrase) + 1)
                at += size
                break
        else:
            others = True
            at += 1
    row = out[1:] if words[:1] == ["number"] else out
    if not others and (len(out) == 1 or all(t in FIGURES for t in row)):
        return out
    return [t for t in out if t in STOPS]


def read_dictionary(path: Path) -> dict[str, list[str]]:
    """CMU dictionary text, one `word PH ON ES` a line, stress removed; first pronunciation wins."""
    out: dict[str, list[str]] = {}
    for line in path.read_text(encoding="latin-1").splitlines():
        head, _, tail = line.partition(" ")
        word = head.lower()
        if not tail or word.startswith(";") or not re.fullmatch(r"[a-z']+", word) or word in out:
            continue
        out[word] = [re.sub(r"\d", "", p) for p in tail.split()]
    out.update({w: p.split() for w, p in OWN.items()})
    return out


def phones_of(text: str, dictionary: dict[str, list[str]]) -> list[int] | None:
    """Phone indices of a text, or None where a word is not in the dictionary."""
    out: list[int] = []
    for word in text.lower().split():
        if word not in dictionary:
            return None
        out += [PHONES.index(p) + 1 for p in dictionary[word]]
    return out


def near_misses() -> list[tuple[str, str]]:
    """(hold phrase, altered phrase): negated, partial, extended and replaced forms, deterministic."""
    alter = VOCABULARY["alterations"]
    out: list[tuple[str, str]] = []
    for n, hold in enumerate(VOCABULARY["holds"]):
        words = hold.split()
        forms = [" ".join(words[:-1] + [w, words[-1]]) for w in alter["insert"]]
        forms.append(" ".join([words[0], "not", *words[1:]]) if len(words) > 2 else "not " + hold)
        forms += [w + " " + hold for w in alter["before"]]
        forms += [hold + " " + w for w in alter["after"]]
        forms.append(" ".join(words[1:]))
        forms.append(" ".join(words[:-1]))
        forms.append(" ".join(words[:-1] + [alter["replaced"][n % len(alter["replaced"])]]))
        forms.append(" ".join([VOCABULARY["shop"]["parts"][n * 3], *words[1:]]))
        out += [(hold, f) for f in forms]
    return out


def distance(a: list[str], b: list[str]) -> int:
    """Fewest phones to change, add or drop."""
    row = list(range(len(b) + 1))
    for i, p in enumerate(a, 1):
        last, row[0] = row[0], i
        for j, q in enumerate(b, 1):
            last, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, last + (p != q))
    return row[-1]


def neighbours(dictionary: dict[str, list[str]], pool: list[str]) -> dict[str, list[str]]:
    """For each word of a command, the words of the pool that sound nearly like it."""
    commands = VOCABULARY["stop"] + VOCABULARY["words"]
    out: dict[str, list[str]] = {}
    for word in sorted({w for c in commands for w in c.lower().split()}):
        phones = dictionary[word]
        most = 1 if len(phones) < 5 else 2
        near = [w for w in pool if w != word and abs(len(dictionary[w]) - len(phones)) <= most]
        out[word] = [w for w in near if 0 < distance(phones, dictionary[w]) <= most] or [word]
    return out


def running(lines: list[str], dictionary: dict[str, list[str]]) -> list[list[str]]:
    """Stretches of ordinary English of which every word is in the dictionary, four words or longer."""
    out: list[list[str]] = []
    for line in re.split(r"[.;:!?()\"\n-]+", "\n".join(lines)):
        words: list[str] = []
        for word in [*re.sub(r"[^a-z' ]", " ", line.lower()).split(), "#"]:
            if word in dictionary:
                words.append(word)
                continue
            if len(words) >= 4:
                out.append(words)
            words = []
    return out


def nearly_commands(rng: random.Random, near: dict[str, list[str]], pool: list[str], small: list[str]) -> str:
    """A command with one or two words replaced by others that sound like them, one left out, or another word beside it."""
    words = rng.choice(VOCABULARY["stop"] + VOCABULARY["words"]).lower().split()
    kind = rng.random()
    if kind < 0.6:
        for at in rng.sample(range(len(words)), min(len(words), rng.choice((1, 1, 2)))):
            words[at] = rng.choice(near[words[at]])
    elif kind < 0.75:
        words[rng.randrange(len(words))] = rng.choice(pool)
    elif kind < 0.9:
        words.pop(rng.randrange(len(words)))
    else:
        words.insert(rng.randint(0, len(words)), rng.choice(small))
    return " ".join(words)


def sentences(count: int, seed: int, dictionary: dict[str, list[str]], pool: list[str], talk: list[list[str]], commands_too: bool = True) -> list[str]:
    """`count` sentences of one to eight words; `talk` is running English, of which stretches are cut. Without `commands_too`
    nobody speaks to the bench: no commands and none of their sound-alikes made word by word; the natural ones stay."""
    rng = random.Random(seed)
    shop = VOCABULARY["shop"]
    held_out = set(VOCABULARY["holds"]) | {f for _, f in near_misses()}
    commands = VOCABULARY["stop"] + VOCABULARY["words"]
    figures, alike = VOCABULARY["figures"], VOCABULARY["alike"]
    near = neighbours(dictionary, pool)

    def one() -> str:
        kind = rng.random()
        if kind < 0.2:
            words = rng.choice(talk)
            at = rng.randint(0, len(words) - 2)
            return " ".join(words[at : at + rng.randint(2, 8)])
        if kind < 0.32:
            words = [rng.choice(pool) if rng.random() < 0.8 else rng.choice(shop["small"]) for _ in range(rng.randint(1, 6))]
            return " ".join(words)
        if kind < 0.53:
            parts = [rng.choice(shop["parts"]) for _ in range(rng.choice((1, 1, 2)))]
            words = ([rng.choice(shop["where"])] if rng.random() < 0.4 else []) + parts
            if rng.random() < 0.3:
                words = [rng.choice(shop["verbs"])] + (["the"] if rng.random() < 0.4 else []) + words
            if rng.random() < 0.35:
                words.append(rng.choice(shop["small"]))
            if rng.random() < 0.8:
                words.append(rng.choice(shop["states"]))
            return " ".join(words)
        if kind < 0.73:
            return rng.choice(commands).lower() if commands_too else ""
        if kind < 0.76:
            return rng.choice(alike).lower()
        if kind < 0.84:
            if not commands_too:
                return ""
            return nearly_commands(rng, near, pool, shop["small"])
        if kind < 0.97:
            return " ".join(rng.choice(figures) for _ in range(rng.randint(1, 5)))
        if not commands_too:
            return ""
        return " ".join([rng.choice(commands), rng.choice(pool), rng.choice(shop["small"]), rng.choice(commands)][: rng.randint(2, 4)])

    out: list[str] = []
    while len(out) < count:
        text = one()
        if not text or text in held_out or any(h in text for h in VOCABULARY["holds"]) or phones_of(text, dictionary) is None:
            continue
        out.append(text)
    return out


def word_pool(path: Path, dictionary: dict[str, list[str]]) -> list[str]:
    """Lower-case words both in the system's small word list and in the dictionary."""
    words = [w.strip() for w in path.read_text().splitlines()]
    return sorted({w for w in words if re.fullmatch(r"[a-z]{2,11}", w) and w in dictionary})


def main() -> None:
    """Usage: texts.py ROOT DICTIONARY OUT.txt: running English out of ROOT/fortunes, a stretch a line, in a shuffled order."""
    root, dictionary = Path(sys.argv[1]), read_dictionary(Path(sys.argv[2]))
    files = [p for p in sorted((root / "fortunes/usr/share/games/fortunes").iterdir()) if not p.suffix]
    lines = [line for p in files for line in p.read_text(errors="replace").replace("\n", " ").split(" % ")]
    stretches = [" ".join(w) for w in running(lines, dictionary)]
    random.Random(7).shuffle(stretches)
    Path(sys.argv[3]).write_text("\n".join(stretches))
    print(len(stretches), "stretches")


if __name__ == "__main__":
    main()
