"""The bake-off's two ways on a frozen speech embedding, on the same clips: closed choice, no rejection.

(b) time warping against takes of the same voice at its other speeds and pitches; (c) a small head trained only on synthetic
voices of other engines, in noise, so that it works before anyone has taught it.
Usage: embedding.py BENCH PACKAGE_FOLDER OUT.json   (PACKAGE_FOLDER holds node_modules for embed.mjs)
"""

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
import torch
from scipy.spatial.distance import cdist
from torch import nn

from baselines import closest
from noise import TRAIN, pool
from speak import RATE, chunk
from streams import LEVELS, clips, level_stream
from texts import VOCABULARY

HERE = Path(__file__).parent
STEP, SHAPE = 1280, 96
BEFORE, AFTER = 20, 6  # rows of 80 ms kept before and after a word's end
TAKES = 40


def embed(parts: list[np.ndarray], folder: str) -> list[np.ndarray]:
    """Rows [n, 96] of each part; parts are lengthened to whole steps and run as one stream."""
    padded = [np.pad(p, (0, -len(p) % STEP)) for p in parts]
    with tempfile.TemporaryDirectory() as name:
        raw, out = Path(name) / "x.raw", Path(name) / "x.f32"
        lead = np.zeros(480 + 12 * STEP, np.float32)
        (np.concatenate([lead, *padded]).clip(-1, 1) * 32767).astype("<i2").tofile(raw)
        subprocess.run(["node", str(HERE / "embed.mjs"), folder, str(raw), str(out)], check=True)
        rows = np.fromfile(out, np.float32).reshape(-1, SHAPE)
    # The first row comes with the tenth step (76 mel rows); the lead is twelve steps.
    rows = rows[len(rows) - sum(len(p) // STEP for p in padded) :]
    ends = np.cumsum([len(p) // STEP for p in padded])
    return [rows[e - len(p) // STEP : e] for e, p in zip(ends, padded)]


def window(rows: np.ndarray) -> np.ndarray:
    return np.pad(rows[-BEFORE:], ((max(0, BEFORE - len(rows)), 0), (0, 0))).reshape(-1)


def training(labels: list[str], folder: str) -> tuple[np.ndarray, np.ndarray]:
    items = [(n * TAKES + k, t) for n, t in enumerate(labels) for k in range(TAKES)]
    spoken = [pair for i in range(0, len(items), 60) for pair in chunk((700000 + i, items[i : i + 60]))]
    noise, rng = pool(6, 444000, TRAIN).astype(np.float32) / 32768, np.random.default_rng(7)
    parts = []
    for _, x in spoken:
        y = np.concatenate([np.zeros(RATE // 2, np.float32), x.astype(np.float32) / 32768, np.zeros(AFTER * STEP, np.float32)])
        at = rng.integers(0, len(noise) - len(y))
        z = noise[at : at + len(y)]
        active = np.sqrt((y**2).sum() / (np.abs(y) > 1e-3).sum())
        ratio = 60 if rng.random() < 0.25 else rng.uniform(-2, 25)
        y = y + z / (np.sqrt((z**2).mean()) + 1e-9) * active * 10 ** (-ratio / 20)
        parts.append(y * 10 ** (rng.uniform(-30, -14) / 20) / active)
    return np.stack([window(r) for r in embed(parts, folder)]), np.array([n // TAKES for n, _ in spoken])


def head(x: np.ndarray, y: np.ndarray, labels: int) -> nn.Module:
    torch.manual_seed(1)
    net = nn.Sequential(nn.Linear(x.shape[1], 128), nn.ReLU(), nn.Dropout(0.4), nn.Linear(128, labels))
    optimiser = torch.optim.AdamW(net.parameters(), lr=1e-3, weight_decay=0.05)
    xs, ys = torch.from_numpy(x), torch.from_numpy(y)
    for epoch in range(60):
        for part in torch.randperm(len(xs)).split(64):
            optimiser.zero_grad()
            nn.functional.cross_entropy(net(xs[part]), ys[part]).backward()
            optimiser.step()
    return net.eval()


def main() -> None:
    bench, folder = Path(sys.argv[1]), sys.argv[2]
    clean, items = clips(bench)
    labels = VOCABULARY["stop"] + VOCABULARY["words"] + VOCABULARY["holds"]
    chosen = [i for i, it in enumerate(items) if it["kind"] in ("stop", "word", "hold") and it["text"] in labels]
    texts, voices = [items[i]["text"] for i in chosen], [items[i]["voice"] for i in chosen]
    begun = time.time()
    x, y = training(labels, folder)
    mean, scale = x.mean(0), x.std(0) + 1e-3
    net = head((x - mean) / scale, y, len(labels))
    print(f"head on {len(x)} takes, {time.time() - begun:.0f} s", flush=True)
    result: dict[str, dict[str, float]] = {"embedding and warping, taught by the same voice": {}, "embedding and head, untaught": {}}
    takes: list[np.ndarray] = []
    for level in LEVELS:
        sound, marks = level_stream(bench, level)
        cut = [sound[marks[i][0] - RATE // 2 : marks[i][1] + AFTER * STEP] for i in chosen]
        rows = embed([(c * 10 ** (-22 / 20) / (np.sqrt((c**2).mean()) + 1e-6)).astype(np.float32) for c in cut], folder)
        inside = [r[6:] for r in rows]
        if not takes:
            takes = inside
        right = sum(closest(c, t, v, takes, texts, voices, "cosine") == t for c, t, v in zip(inside, texts, voices))
        with torch.no_grad():
            guess = net(torch.from_numpy((np.stack([window(r) for r in rows]) - mean) / scale)).argmax(1).numpy()
        result["embedding and warping, taught by the same voice"][level] = round(100 * right / len(chosen), 1)
        result["embedding and head, untaught"][level] = round(100 * float(np.mean([labels[g] == t for g, t in zip(guess, texts)])), 1)
        print(level, {k: v[level] for k, v in result.items()}, flush=True)
    Path(sys.argv[3]).write_text(json.dumps(result, indent=1))


if __name__ == "__main__":
    main()
