"""Fold the norms into the weights, round to 8 bits a row, write the file the product loads, and a test fixture.

Usage: export.py NET.pt OUT.bin [FIXTURE.json CLIP.wav]
File: "HFEAR001", uint32 length of a JSON header, the header padded to 4 bytes, then the tensors. Matrices are int8
[rows, columns] with one float32 scale a row; vectors and depthwise kernels are float32. Little-endian.
"""

import base64
import json
import struct
import sys

import numpy as np
import torch
from torch.nn import functional as F

import model
from model import DILATIONS, KERNEL, LOOKAHEAD, WORD_BLOCKS, Features, Net
from texts import TOKENS

MAGIC = b"HFEAR001"


def fold(net: Net) -> list[tuple[str, np.ndarray, bool]]:
    """(name, float array, is matrix) in the order of use."""
    def gain(norm: torch.nn.BatchNorm1d) -> tuple[torch.Tensor, torch.Tensor]:
        g = norm.weight / (norm.running_var + norm.eps).sqrt()
        return g, norm.bias - norm.running_mean * g

    out: list[tuple[str, np.ndarray, bool]] = []
    g, b = gain(net.norm)
    # Columns: the current column's inputs, then the next one's.
    stem = (net.stem.weight * g[:, None, None]).permute(0, 2, 1).reshape(model.CHANNELS, -1)
    out += [("stem", stem.detach().numpy(), True), ("stem.bias", (net.stem.bias * g + b).detach().numpy(), False)]
    for i, block in enumerate(net.blocks):
        g1, b1 = gain(block.norm1)
        g2, b2 = gain(block.norm2)
        out.append((f"{i}.depth", (block.depth.weight[:, 0] * g1[:, None]).detach().numpy(), False))
        out.append((f"{i}.depth.bias", b1.detach().numpy(), False))
        out += [(f"{i}.up", (block.up.weight[:, :, 0] * g2[:, None]).detach().numpy(), True), (f"{i}.up.bias", b2.detach().numpy(), False)]
        out += [(f"{i}.down", block.down.weight[:, :, 0].detach().numpy(), True), (f"{i}.down.bias", block.down.bias.detach().numpy(), False)]
    out += [("out", net.out.weight[:, :, 0].detach().numpy(), True), ("out.bias", net.out.bias.detach().numpy(), False)]
    out += [("words", net.words.weight[:, :, 0].detach().numpy(), True), ("words.bias", net.words.bias.detach().numpy(), False)]
    return out


def write(path: str, tensors: list[tuple[str, np.ndarray, bool]]) -> None:
    entries, blob = [], b""
    for name, x, matrix in tensors:
        blob += b"\0" * (-len(blob) % 4)
        if matrix:
            scale = (np.abs(x).max(1) / 127).astype(np.float32)
            data = np.round(x / scale[:, None]).astype(np.int8)
            entries.append({"name": name, "shape": list(x.shape), "type": "int8", "at": len(blob)})
            blob += data.tobytes() + b"\0" * (-data.size % 4)
            entries.append({"name": name + ".scale", "shape": [len(scale)], "type": "float32", "at": len(blob)})
            blob += scale.tobytes()
        else:
            entries.append({"name": name, "shape": list(x.shape), "type": "float32", "at": len(blob)})
            blob += x.astype("<f4").tobytes()
    header = {
        "rate": model.RATE, "window": model.WINDOW, "hop": model.HOP, "fft": model.FFT, "mels": model.MELS, "stack": model.STACK,
        "low": model.LOW, "high": model.HIGH, "floor": model.FLOOR, "memory": model.MEMORY, "channels": model.CHANNELS,
        "wide": model.WIDE, "outputs": model.OUTPUTS, "kernel": KERNEL, "dilations": DILATIONS, "lookahead": LOOKAHEAD, "words": TOKENS, "wordBlocks": WORD_BLOCKS, "tensors": entries,
    }
    text = json.dumps(header, separators=(",", ":")).encode()
    text += b" " * (-len(text) % 4)
    with open(path, "wb") as f:
        f.write(MAGIC + struct.pack("<I", len(text)) + text + blob)


class Folded:
    """The exported file, run in torch: what the product computes, without the streaming."""

    def __init__(self, path: str) -> None:
        raw = open(path, "rb").read()
        size = struct.unpack("<I", raw[8:12])[0]
        header, base = json.loads(raw[12 : 12 + size]), 12 + size
        self.header = header
        self.t: dict[str, torch.Tensor] = {}
        for e in header["tensors"]:
            kind = np.int8 if e["type"] == "int8" else np.float32
            x = np.frombuffer(raw, kind, int(np.prod(e["shape"])), base + e["at"]).reshape(e["shape"])
            self.t[e["name"]] = torch.from_numpy(x.astype(np.float32))
        for name in [n[:-6] for n in self.t if n.endswith(".scale")]:
            self.t[name] = self.t[name] * self.t[name + ".scale"][:, None]
        self.features = Features()

    def columns(self, x: torch.Tensor) -> torch.Tensor:
        """Features [T, 240] -> log posteriors of phones, then of words [T, OUTPUTS + WORDS]."""
        t, h = self.t, self.header
        x = torch.cat([x, F.pad(x, (0, 0, 0, 1))[1:]], 1)
        y = F.relu(x @ t["stem"].T + t["stem.bias"])
        parts = []
        for i, (d, a) in enumerate(zip(h["dilations"], h["lookahead"])):
            if "words" in t and i == len(h["dilations"]) - h.get("wordBlocks", 1):
                parts.append((F.relu(y) @ t["out"].T + t["out.bias"]).log_softmax(1))
            # The depthwise convolution as a sum of shifted rows: many times quicker on a processor than torch's own.
            around, kernel = F.pad(y, (0, 0, (h["kernel"] - 1) * d - a, a)), t[f"{i}.depth"]
            z = t[f"{i}.depth.bias"].expand(len(y), -1).clone()
            for k in range(h["kernel"]):
                z.addcmul_(around[k * d : k * d + len(y)], kernel[:, k])
            y = y + F.relu(z @ t[f"{i}.up"].T + t[f"{i}.up.bias"]) @ t[f"{i}.down"].T + t[f"{i}.down.bias"]
        last = "words" if "words" in t else "out"
        parts.append((F.relu(y) @ t[last].T + t[f"{last}.bias"]).log_softmax(1))
        return torch.cat(parts, 1)

    def __call__(self, audio: np.ndarray) -> np.ndarray:
        """Long audio, float32 -> [T, OUTPUTS + WORDS] float32, the background kept running as the stream does."""
        with torch.no_grad():
            f = self.features
            frames = torch.from_numpy(audio).unfold(0, model.WINDOW, model.HOP)
            logs = [torch.log((torch.fft.rfft(part * f.window, model.FFT).abs() ** 2) @ f.filters[8] + model.FLOOR) for part in frames.split(20000)]
            x = torch.cat(logs).numpy()
            x = x[: len(x) // 3 * 3]
            back, mean = np.empty_like(x), np.zeros(model.MELS, np.float64)
            for i, row in enumerate(x):
                mean += (row - mean) * max(1 / (i + 1), 1 / model.MEMORY)
                back[i] = mean
            both = np.concatenate([(x + 6) * 0.25, (x - back) * 0.5], 1).astype(np.float32)
            rows = torch.from_numpy(both.reshape(len(x) // 3, -1))
            return torch.cat([self.columns(rows[max(0, s - 100) : s + 5006])[min(s, 100) :][:5000] for s in range(0, len(rows), 5000)]).numpy()


def main() -> None:
    net = Net()
    net.load_state_dict({k: v.float() if v.is_floating_point() else v for k, v in torch.load(sys.argv[1], map_location="cpu").items()})
    net.eval()
    write(sys.argv[2], fold(net))
    folded = Folded(sys.argv[2])
    if len(sys.argv) > 4:
        from speak import load_wav

        clip = np.concatenate([np.zeros(3200, np.float32), load_wav(sys.argv[4]), np.zeros(6400, np.float32)])  # type: ignore[arg-type]
        pcm = (clip * 16000).astype("<i2")
        audio = pcm.astype(np.float32) / 32768
        logp = folded(audio)
        exact = torch.cat([o[0].log_softmax(1) for o in net(Features()(torch.from_numpy(audio)[None]))], 1).detach().numpy()
        print("greatest change by rounding the weights:", np.abs(np.exp(exact) - np.exp(logp)).max())
        with open(sys.argv[3], "w") as f:
            json.dump({"pcm": base64.b64encode(pcm.tobytes()).decode(), "columns": len(logp), "logp": [round(float(v), 4) for v in logp.reshape(-1)]}, f)


if __name__ == "__main__":
    main()
