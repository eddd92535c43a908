"""Join clip files so that they travel light: pack.py OUT.npz IN.npz... (needs opusenc)

Writes the labels to OUT.npz and the sound, one clip after the other, to OUT.opus (28 kbit/s); `unpack` reads OUT.npz and
OUT.wav, as `opusdec --rate 16000 OUT.opus OUT.wav` makes it.
"""

import subprocess
import sys
import wave
from pathlib import Path

import numpy as np

RATE = 16000
NAMES = ("lengths", "phones", "phone_counts")


def compand(x: np.ndarray) -> np.ndarray:
    """16 bits to 8 on the curve of ITU-T G.711."""
    y = x.astype(np.float32) / 32768
    return np.round(np.sign(y) * np.log1p(255 * np.abs(y)) / np.log(256) * 127).astype(np.int8)


def wide(x: np.ndarray) -> np.ndarray:
    """16-bit samples of what may be companded."""
    if x.dtype != np.int8:
        return x
    y = x.astype(np.float32) / 127
    return (np.sign(y) * (256 ** np.abs(y) - 1) / 255 * 32767).astype(np.int16)


def unpack(path: str) -> dict[str, np.ndarray]:
    data = np.load(path)
    out = {name: data[name] for name in NAMES}
    # Clips without words of the app are examples of just that.
    out["tokens"] = data["tokens"] if "tokens" in data else np.zeros(0, np.int16)
    out["token_counts"] = data["token_counts"] if "tokens" in data else np.zeros(len(out["lengths"]), np.int64)
    if "flat" in data:
        out["flat"] = wide(data["flat"])
    else:
        with wave.open(str(Path(path).with_suffix(".wav"))) as f:
            out["flat"] = np.frombuffer(f.readframes(f.getnframes()), np.int16)
    short = int(out["lengths"].sum()) - len(out["flat"])
    if short > RATE:
        raise SystemExit(f"{path}: {short} samples are missing")
    out["flat"] = np.concatenate([out["flat"], np.zeros(max(0, short), np.int16)])
    return out


def main() -> None:
    parts = [unpack(p) for p in sys.argv[2:]]
    joined = {name: np.concatenate([p[name] for p in parts]) for name in (*NAMES, "tokens", "token_counts")}
    np.savez_compressed(sys.argv[1], **joined)
    raw = np.concatenate([p["flat"][: p["lengths"].sum()] for p in parts]).tobytes()
    subprocess.run(["opusenc", "--quiet", "--raw", "--raw-rate", str(RATE), "--raw-chan", "1", "--bitrate", "28", "-", str(Path(sys.argv[1]).with_suffix(".opus"))], input=raw, check=True)


if __name__ == "__main__":
    main()
