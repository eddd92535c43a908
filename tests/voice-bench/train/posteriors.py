"""Run the exported model over the bench's streams: posteriors.py EAR.bin BENCH OUT

Writes OUT/level_*.npy and OUT/negative_*.npy, int16 thousandths of the log posteriors [columns, outputs], and marks.json
with the first and last millisecond of each clip. The product's own streaming network gives the same numbers (its test
says so); torch only makes five hours of them quicker.
"""

import json
import sys
from pathlib import Path

import numpy as np

from export import Folded
from streams import LEVELS, RATE, level_stream, negatives


def main() -> None:
    net, bench, out = Folded(sys.argv[1]), Path(sys.argv[2]), Path(sys.argv[3])
    out.mkdir(parents=True, exist_ok=True)

    def save(name: str, x: np.ndarray) -> None:
        np.save(out / f"{name}.npy", np.round(np.maximum(net(x.astype(np.float32)), -30) * 1000).astype(np.int16))
        print(name, f"{len(x) / RATE / 3600:.2f} h", flush=True)

    for level in LEVELS:
        x, marks = level_stream(bench, level)
        (out / "marks.json").write_text(json.dumps([[a * 1000 / RATE, b * 1000 / RATE] for a, b in marks]))
        save(f"level_{level}", x)
    for name, x in negatives(bench):
        save(f"negative_{name}", x)


if __name__ == "__main__":
    main()
