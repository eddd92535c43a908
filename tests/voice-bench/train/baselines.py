"""The bake-off's other ways on the same clips: closed choice among all command words and hold phrases, no rejection.

(a) 13 mel cepstra with dynamic time warping against takes of the same voice, spoken at other speeds and pitches;
(d) pocketsphinx (Debian) with a grammar. Usage: baselines.py BENCH OUT.json   (needs pocketsphinx_batch)
"""

import json
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import torch
from scipy.fft import dct
from scipy.spatial.distance import cdist

from model import FFT, HOP, WINDOW, mel_filters
from streams import LEVELS, clips, level_stream

FILTERS = mel_filters().numpy()
SHAPE = torch.hann_window(WINDOW, periodic=True).numpy()
MODEL = Path("/usr/share/pocketsphinx/model/en-us")
EXTRA = "refitted R IY F IH T IH D\ntorqued T AO R K T\ntyre T AY ER\nhooked HH UH K T\n"


def cepstra(x: np.ndarray) -> np.ndarray:
    frames = np.lib.stride_tricks.sliding_window_view(x, WINDOW)[::HOP] * SHAPE
    c = dct(np.log(np.abs(np.fft.rfft(frames, FFT)) ** 2 @ FILTERS + 1e-6), norm="ortho")[:, 1:14]
    c -= c.mean(0)
    return np.concatenate([c, np.gradient(c, axis=0)], 1)[::2]


def warp(a: np.ndarray, b: np.ndarray, metric: str = "euclidean") -> float:
    """Length-normalised warping distance."""
    d = cdist(a, b, metric)
    cost = np.full((len(a) + 1, len(b) + 1), np.inf)
    cost[0, 0] = 0
    for s in range(len(a) + len(b) - 1):
        i = np.arange(max(0, s - len(b) + 1), min(len(a), s + 1))
        j = s - i
        cost[i + 1, j + 1] = d[i, j] + np.minimum(np.minimum(cost[i, j + 1], cost[i + 1, j]), cost[i, j])
    return cost[-1, -1] / (len(a) + len(b))


def closest(c: np.ndarray, text: str, voice: str, takes: list[np.ndarray], texts: list[str], voices: list[str], metric: str = "euclidean") -> str:
    """The label of the nearest take of the same voice (language) at its other speeds and pitches: three takes a label."""
    others = sorted({v for v in voices if v != voice and v[:10] == voice[:10]})[:3]
    return min((warp(c, t, metric), u) for t, u, v in zip(takes, texts, voices) if v in others)[1]


def sphinx(audio: list[np.ndarray], texts: list[str]) -> list[str]:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        grammar = " | ".join(t.lower() for t in sorted(set(texts)))
        (folder / "g.jsgf").write_text(f"#JSGF V1.0;\ngrammar g;\npublic <g> = {grammar};\n")
        (folder / "d.dict").write_text((MODEL / "cmudict-en-us.dict").read_text() + EXTRA)
        for n, x in enumerate(audio):
            (np.clip(x, -1, 1) * 32767).astype("<i2").tofile(folder / f"{n}.raw")
        (folder / "ctl").write_text("\n".join(str(n) for n in range(len(audio))))
        subprocess.run(["pocketsphinx_batch", "-hmm", str(MODEL / "en-us"), "-dict", str(folder / "d.dict"), "-jsgf", str(folder / "g.jsgf"),
                        "-ctl", str(folder / "ctl"), "-cepdir", name, "-cepext", ".raw", "-adcin", "yes", "-hyp", str(folder / "hyp"),
                        "-bestpath", "no"], check=True, capture_output=True)
        return [line.rsplit("(", 1)[0].strip() for line in (folder / "hyp").read_text().splitlines()]


def main() -> None:
    bench = Path(sys.argv[1])
    clean, items = clips(bench)
    chosen = [i for i, it in enumerate(items) if it["kind"] in ("stop", "word", "hold")]
    texts = [items[i]["text"] for i in chosen]
    takes = [cepstra(clean[i]) for i in chosen]
    voices = [items[i]["voice"] for i in chosen]
    result: dict[str, dict[str, float]] = {"warping": {}, "pocketsphinx": {}}
    for level in LEVELS:
        x, marks = level_stream(bench, level)
        cut = [x[marks[i][0] - 1600 : marks[i][1] + 1600] for i in chosen]
        right = 0
        for text, voice, clip in zip(texts, voices, cut):
            c = cepstra(clip[1600:-1600])
            right += closest(c, text, voice, takes, texts, voices) == text
        result["warping"][level] = round(100 * right / len(chosen), 1)
        heard = sphinx([x[marks[i][0] - 4800 : marks[i][1] + 4800] for i in chosen], texts)
        result["pocketsphinx"][level] = round(100 * float(np.mean([a == b.lower() for a, b in zip(heard, texts)])), 1)
        print(level, result["warping"][level], result["pocketsphinx"][level], flush=True)
    Path(sys.argv[2]).write_text(json.dumps(result, indent=1))


if __name__ == "__main__":
    main()
