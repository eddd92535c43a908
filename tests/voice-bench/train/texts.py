"""Sentences for training: random words, workshop talk, commands and figures, each with its phones.

The hold phrases that the bench tests are never spoken whole in training; their single words may be.
"""

import json
import random
import re
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
}


# What the second output of the model tells apart: whole commands and the words of figures; 0 is "none of these".
TOKENS = [w.lower() for w in VOCABULARY["stop"] + VOCABULARY["words"] if not w.startswith("number ")] + ["number"] + VOCABULARY["figures"]


SOUND_ALIKE = {"to": "two", "too": "two", "for": "four", "fore": "four", "won": "one", "ate": "eight"}


def tokens_of(text: str) -> list[int]:
    """The commands and figure words in a text, longest first, in order, as indices of TOKENS plus one."""
    words, out, at = [SOUND_ALIKE.get(w, w) for w in text.lower().split()], [], 0
    while at < len(words):
        for size in (4, 3, 2, 1):
            phrase = " ".join(words[at : at + size])
            if at + size <= len(words) and phrase in TOKENS:
                out.append(TOKENS.index(phrase) + 1)
                at += size
                break
        else:
            at += 1
    return out


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


def sentences(count: int, seed: int, dictionary: dict[str, list[str]], pool: list[str]) -> list[str]:
    """`count` training sentences of one to seven words."""
    rng = random.Random(seed)
    shop = VOCABULARY["shop"]
    held_out = set(VOCABULARY["holds"]) | {f for _, f in near_misses()}
    commands = VOCABULARY["stop"] + VOCABULARY["words"]
    figures, alike = VOCABULARY["figures"], VOCABULARY["alike"]

    def one() -> str:
        kind = rng.random()
        if kind < 0.33:
            words = [rng.choice(pool) if rng.random() < 0.8 else rng.choice(shop["small"]) for _ in range(rng.randint(1, 6))]
            return " ".join(words)
        if kind < 0.58:
            parts = [rng.choice(shop["parts"]) for _ in range(rng.choice((1, 1, 2)))]
            words = ([rng.choice(shop["where"])] if rng.random() < 0.4 else []) + parts
            if rng.random() < 0.3:
                words = [rng.choice(shop["verbs"])] + (["the"] if rng.random() < 0.4 else []) + words
            if rng.random() < 0.35:
                words.append(rng.choice(shop["small"]))
            if rng.random() < 0.8:
                words.append(rng.choice(shop["states"]))
            return " ".join(words)
        if kind < 0.72:
            return rng.choice(commands).lower()
        if kind < 0.78:
            return rng.choice(alike).lower()
        if kind < 0.94:
            return " ".join(rng.choice(figures) for _ in range(rng.randint(1, 5)))
        return " ".join([rng.choice(commands), rng.choice(pool), rng.choice(shop["small"]), rng.choice(commands)][: rng.randint(2, 4)])

    out: list[str] = []
    while len(out) < count:
        text = one()
        if text in held_out or any(h in text for h in VOCABULARY["holds"]) or phones_of(text, dictionary) is None:
            continue
        out.append(text)
    return out


def word_pool(path: Path, dictionary: dict[str, list[str]]) -> list[str]:
    """Lower-case words both in the system's small word list and in the dictionary."""
    words = [w.strip() for w in path.read_text().splitlines()]
    return sorted({w for w in words if re.fullmatch(r"[a-z]{2,11}", w) and w in dictionary})
