"""The bench's streams: every test clip in workshop noise at one level, one after the other; and the negatives.

Speech lies between -38 and -22 dBFS. A level is speech power while speaking over noise power over the same stretch, but a
gap in an on-off tool counts as no less than a quarter of the tool's own amplitude.
"""

import json
from collections.abc import Iterator
from pathlib import Path

import numpy as np

RATE = 16000
LEVELS = ("clean", "20", "10", "5", "0")
QUIET = RATE  # noise alone before and after each clip


def clips(bench: Path) -> tuple[list[np.ndarray], list[dict[str, str]]]:
    data = np.load(bench / "speech.npz")
    ends = np.cumsum(data["lengths"])
    return [data["flat"][e - n : e].astype(np.float32) / 32768 for e, n in zip(ends, data["lengths"])], json.loads((bench / "speech.json").read_text())


def level_stream(bench: Path, level: str) -> tuple[np.ndarray, list[tuple[int, int]]]:
    """(audio, [first and last sample of each clip])"""
    noise = np.load(bench / "noise_mix.npy").astype(np.float32) / 32768
    rng = np.random.default_rng(99)
    parts, marks, at = [], [], 0
    for x in clips(bench)[0]:
        n, total = len(x), len(x) + 2 * QUIET
        active = np.sqrt((x**2).sum() / max(1, (np.abs(x) > 1e-3).sum()))
        gain = 10 ** (rng.uniform(-38, -22) / 20) / active
        y = np.zeros(total, np.float32)
        y[QUIET : QUIET + n] = x * gain
        start = rng.integers(0, len(noise) - total)
        z = noise[start : start + total]
        rms = max(np.sqrt((z[QUIET : QUIET + n] ** 2).mean()) + 1e-9, np.sqrt((z**2).mean()) / 4)
        ratio = 60.0 if level == "clean" else float(level)
        y += z / rms * (gain * active) * 10 ** (-ratio / 20)
        marks.append((at + QUIET, at + QUIET + n))
        parts.append(np.clip(y, -1, 1))
        at += total
    return np.concatenate(parts), marks


def negatives(bench: Path) -> Iterator[tuple[str, np.ndarray]]:
    """Talk and noise in which no phrase of the grammar is said."""
    noise = np.load(bench / "negative_noise.npy").astype(np.float32) / 32768
    for name in ("human_en", "human_es", "human_ru", "talk"):
        yield name, np.load(bench / f"negative_{name}.npy").astype(np.float32) / 32768
    yield "noise", noise
    talk = 0.5 * np.concatenate([np.load(bench / f"negative_{n}.npy") for n in ("human_en", "talk")]).astype(np.float32) / 32768
    z = np.resize(noise, len(talk))
    ratio = np.sqrt((talk[np.abs(talk) > 1e-3] ** 2).mean()) / np.sqrt((z**2).mean()) * 10 ** (-10 / 20)
    yield "talk_noise", np.clip(talk + z * ratio, -1, 1)
