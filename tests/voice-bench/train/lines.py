"""Recorded English lines with their texts: lines.py DICT OUT.npz HELD-OUT.npz FOLDER... 

Each FOLDER holds WAV files, 16 bits, and `lines.tsv`: file, who speaks (may be empty), text. Lines with a word that the dictionary lacks are left
out, and so are those longer than a training clip. One speaker of eight is held out of training, for the bench.
"""

import re
import sys
import zlib
from multiprocessing import Pool
from pathlib import Path

import numpy as np

from people import LONGEST, keep
from speak import RATE, load_wav
from texts import phones_of, read_dictionary, tokens_of


def words(text: str) -> str:
    """Lower-case words; texts with figures in them, or sounds between asterisks, say nothing certain."""
    return "" if re.search(r"[\d*<>\[\]]", text) else " ".join(re.sub(r"[^a-z' ]", " ", text.lower().replace("’", "'")).split()).replace(" '", " ").replace("' ", " ")


def held_out(who: str) -> bool:
    return who not in ("", "lead") and zlib.crc32(who.encode()) % 8 == 0


def sound(path: Path) -> np.ndarray | None:
    x = load_wav(path)
    peak = np.abs(x).max() if len(x) else 0
    return (x / peak * 20000).astype(np.int16) if 2400 < len(x) < LONGEST * RATE and peak > 0.005 else None


def main() -> None:
    dictionary = read_dictionary(Path(sys.argv[1]))
    found: list[tuple[Path, list[int], list[int], bool]] = []
    for folder in map(Path, sys.argv[4:]):
        for line in (folder / "lines.tsv").read_text().splitlines():
            name, who, text = line.split("\t")
            spoken = words(text)
            phones = phones_of(spoken, dictionary) if spoken else None
            if phones:
                found.append((folder / name, phones, tokens_of(spoken), held_out(who)))
    with Pool(2) as pool:
        sounds = pool.map(sound, [path for path, _, _, _ in found], 20)
    for path, out in ((sys.argv[2], False), (sys.argv[3], True)):
        keep(path, [(x, p, t) for x, (_, p, t, o) in zip(sounds, found) if o == out])


if __name__ == "__main__":
    main()
