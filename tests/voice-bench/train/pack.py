"""Join clip files and compand them to 8 bits so that they travel light: pack.py OUT.npz IN.npz..."""

import sys

import numpy as np


def compand(x: np.ndarray) -> np.ndarray:
    y = x.astype(np.float32) / 32768
    return np.round(np.sign(y) * np.log1p(255 * np.abs(y)) / np.log(256) * 127).astype(np.int8)


if __name__ == "__main__":
    parts = [np.load(p) for p in sys.argv[2:]]
    joined = {name: np.concatenate([p[name] for p in parts]) for name in ("flat", "lengths", "phones", "phone_counts")}
    joined["flat"] = compand(joined["flat"])
    np.savez_compressed(sys.argv[1], **joined)
