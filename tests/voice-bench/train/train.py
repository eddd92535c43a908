"""Train the acoustic model with CTC on spoken sentences mixed with noise on the accelerator.

Usage: train.py SPOKEN.npz[,HUMAN.npz] NOISE.npy OUT.pt SECONDS SEED [TALK.npy] [START.pt]
The learning rate falls to nothing over SECONDS of wall clock, so the run always ends with a finished model.
"""

import math
import sys
import time

import numpy as np
import torch
from torch.nn import functional as F

from model import MELS, RATE, STACK, Features, Net

BATCH, CLIP = 224, 73200  # samples: 152 columns of 30 ms
PEAK_RATE = 2.5e-3
HUMAN_SHARE = 16  # the few human clips count this many times


def unpack(data: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    """Clips may be stored in 8-bit companded form (ITU-T G.711 curve, as `pack.py` writes) to travel light."""
    out = {name: data[name] for name in ("flat", "lengths", "phones", "phone_counts")}
    if out["flat"].dtype == np.int8:
        y = out["flat"].astype(np.float32) / 127
        out["flat"] = (np.sign(y) * (256 ** np.abs(y) - 1) / 255 * 32767).astype(np.int16)
    return out


class Mixer:
    """Draws random clips: one or two sentences in a room, with noise, talk, filters, gain and clipping."""

    def __init__(self, spoken: str, noise: str, talk: str | None, device: str, seed: int) -> None:
        data = [unpack(np.load(part)) for part in spoken.split(",") for _ in range(HUMAN_SHARE if "human" in part else 1)]
        self.device = device
        self.flat = torch.from_numpy(np.concatenate([d["flat"] for d in data])).to(device)
        self.lengths = torch.from_numpy(np.concatenate([d["lengths"] for d in data])).to(device)
        self.starts = torch.cumsum(self.lengths, 0) - self.lengths
        self.phones = np.concatenate([d["phones"] for d in data]).astype(np.int64)
        self.counts = np.concatenate([d["phone_counts"] for d in data])
        self.phone_starts = np.cumsum(self.counts) - self.counts
        self.noise = torch.from_numpy(np.load(noise)).to(device)
        self.talk = torch.from_numpy(np.load(talk)).to(device) if talk else None
        self.gen = torch.Generator(device=device).manual_seed(seed)
        self.rng = np.random.default_rng(seed)

    def uniform(self, low: float, high: float, *shape: int) -> torch.Tensor:
        return torch.rand(*shape, device=self.device, generator=self.gen) * (high - low) + low

    def place(self, which: torch.Tensor, begin: torch.Tensor, rate: torch.Tensor) -> torch.Tensor:
        """[B, CLIP] sentences `which`, each starting at sample `begin`, played `rate` times as fast."""
        t = torch.arange(CLIP, device=self.device)[None] - begin[:, None]
        position = t * rate[:, None]
        inside = (t >= 0) & (position < (self.lengths[which] - 2)[:, None])
        whole = position.floor()
        part = position - whole
        index = (self.starts[which][:, None] + whole.long()).clamp(0, len(self.flat) - 2)
        x = self.flat[index].float() * (1 - part) + self.flat[index + 1].float() * part
        return torch.where(inside, x / 32768, torch.zeros_like(x))

    def batch(self) -> tuple[torch.Tensor, torch.Tensor, torch.Tensor, torch.Tensor]:
        """(audio, warps, labels flat, label lengths)"""
        b, total = BATCH, len(self.lengths)
        first = torch.randint(total, (b,), device=self.device, generator=self.gen)
        second = torch.randint(total, (b,), device=self.device, generator=self.gen)
        rate = self.uniform(0.8, 1.25, b)
        begin = self.uniform(0.05, 1.2, b) * RATE
        end = begin + self.lengths[first] / rate
        begin2 = end + self.uniform(-0.02, 0.6, b) * RATE
        end2 = begin2 + self.lengths[second] / rate
        empty = self.uniform(0, 1, b) < 0.06
        fits = end + 3200 < CLIP
        one = fits & ~empty
        two = one & (end2 + 3200 < CLIP) & (self.uniform(0, 1, b) < 0.6)
        louder = 10 ** (self.uniform(-6, 6, b) / 20)
        speech = self.place(first, begin, rate) * one[:, None] + self.place(second, begin2, rate) * (two * louder)[:, None]
        speech = self.room(speech)
        active = ((speech**2).sum(1) / ((speech.abs() > 1e-3).sum(1) + 1)).sqrt() + 1e-4
        speech = speech / active[:, None]
        start = torch.randint(len(self.noise) - CLIP, (b,), device=self.device, generator=self.gen)
        noise = self.noise[start[:, None] + torch.arange(CLIP, device=self.device)].float()
        noise = noise / ((noise**2).mean(1, keepdim=True).sqrt() + 1)
        ratio = torch.where(self.uniform(0, 1, b) < 0.2, self.uniform(25, 60, b), self.uniform(-4, 25, b))
        mix = speech + noise * (10 ** (-ratio / 20))[:, None]
        if self.talk is not None:
            start = torch.randint(len(self.talk) - CLIP, (b,), device=self.device, generator=self.gen)
            talk = self.talk[start[:, None] + torch.arange(CLIP, device=self.device)].float()
            talk = talk / ((talk**2).mean(1, keepdim=True).sqrt() + 1)
            gain = torch.where(self.uniform(0, 1, b) < 0.25, 10 ** (-self.uniform(9, 25, b) / 20), torch.zeros(b, device=self.device))
            mix = mix + talk * gain[:, None]
        mix = mix * (10 ** (self.uniform(-46, -14, b) / 20))[:, None]
        clipped = self.uniform(0, 1, b) < 0.05
        mix = torch.where(clipped[:, None], (mix * 6).clamp(-0.5, 0.5), mix).clamp(-1, 1)
        mix = mix + torch.randn(mix.shape, device=self.device, generator=self.gen) * (10 ** (self.uniform(-95, -65, b) / 20))[:, None]
        warps = torch.randint(1, 16, (b,), device=self.device, generator=self.gen)
        labels, sizes = [], []
        for i, (u, v, has, more) in enumerate(zip(first.tolist(), second.tolist(), one.tolist(), two.tolist())):
            parts = ([u] if has else []) + ([v] if more else [])
            row = [self.phones[self.phone_starts[p] : self.phone_starts[p] + self.counts[p]] for p in parts]
            flat = np.concatenate(row) if row else np.zeros(0, np.int64)
            labels.append(flat)
            sizes.append(len(flat))
        return mix, warps, torch.from_numpy(np.concatenate(labels)).to(self.device), torch.tensor(sizes, device=self.device)

    def room(self, x: torch.Tensor) -> torch.Tensor:
        """A random reverberant tail and microphone colour for each clip, in one trip through the spectrum."""
        b, n = x.shape[0], 1 << 17
        t = torch.arange(8000, device=self.device) / RATE
        decay = self.uniform(0.05, 0.45, b, 1) / 6.9
        tail = torch.randn(b, 8000, device=self.device, generator=self.gen) * torch.exp(-t / decay)
        tail = tail / (tail**2).sum(1, keepdim=True).sqrt()
        wet = 10 ** (self.uniform(-25, -3, b, 1) / 20)
        tail = tail * wet
        tail[:, 0] = 1
        points = self.uniform(-10, 10, b, 1, 9)
        curve = F.interpolate(points, n // 2 + 1, mode="linear", align_corners=True)[:, 0]
        f = torch.linspace(0, RATE / 2, n // 2 + 1, device=self.device)
        cut = torch.where(self.uniform(0, 1, b) < 0.1, self.uniform(3300, 6000, b), torch.full((b,), 9000.0, device=self.device))
        curve = curve - 40 * (f[None] > cut[:, None])
        shape = torch.fft.rfft(tail, n) * 10 ** (curve / 20)
        return torch.fft.irfft(torch.fft.rfft(x, n) * shape, n)[:, : x.shape[1]]


def mask(x: torch.Tensor, mixer: Mixer) -> torch.Tensor:
    """Blank out a band of mels and one or two short stretches in half of the clips."""
    b, t, _ = x.shape
    grid = torch.arange(MELS, device=x.device)[None]
    low, width = mixer.uniform(0, MELS, b, 1), mixer.uniform(0, 7, b, 1)
    band = (grid >= low) & (grid < low + width) & (mixer.uniform(0, 1, b, 1) < 0.5)
    begin, length = mixer.uniform(0, t, b, 1), mixer.uniform(0, 5, b, 1)
    row = torch.arange(t, device=x.device)[None]
    time_ = (row >= begin) & (row < begin + length) & (mixer.uniform(0, 1, b, 1) < 0.5)
    return x.masked_fill(band.repeat(1, 2 * STACK)[:, None], 0).masked_fill(time_[:, :, None], 0)


def main() -> None:
    spoken, noise, out, seconds, seed = sys.argv[1:6]
    talk = sys.argv[6] if len(sys.argv) > 6 and sys.argv[6] != "-" else None
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(int(seed))
    torch.backends.cuda.matmul.allow_tf32 = True
    torch.backends.cudnn.allow_tf32 = True
    torch.backends.cudnn.benchmark = True
    mixer = Mixer(spoken, noise, talk, device, int(seed))
    features, net = Features().to(device), Net().to(device)
    if len(sys.argv) > 7:
        net.load_state_dict(torch.load(sys.argv[7], map_location=device))
    optimiser = torch.optim.AdamW(net.parameters(), lr=1e-4, weight_decay=0.01)
    begun, step, shown = time.time(), 0, 0.0
    while (spent := time.time() - begun) < float(seconds):
        part = spent / float(seconds)
        rate = PEAK_RATE * min(1, step / 500 + 0.01) * (0.5 + 0.5 * math.cos(math.pi * part)) + 1e-6
        for group in optimiser.param_groups:
            group["lr"] = rate
        audio, warps, labels, sizes = mixer.batch()
        with torch.no_grad():
            x = mask(features(audio, warps), mixer)
        with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
            logits = net(x)
        logp = logits.float().log_softmax(2).transpose(0, 1)
        columns = torch.full((len(sizes),), logp.shape[0], device=device, dtype=torch.long)
        loss = F.ctc_loss(logp, labels, columns, sizes, zero_infinity=True, reduction="sum") / sizes.sum().clamp(min=1)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 2.0)
        optimiser.step()
        step += 1
        if step % 100 == 0 or device == "cpu":
            shown = 0.8 * shown + 0.2 * loss.item() if shown else loss.item()
        if step % 500 == 0 or device == "cpu":
            print(f"{step} steps {spent:.0f} s loss {shown:.4f} lr {rate:.2e}", flush=True)
        if step % 4000 == 0:
            torch.save(net.state_dict(), out + ".part")
    torch.save(net.state_dict(), out)
    print(f"done {step} steps, loss {shown:.4f}, weights {sum(p.numel() for p in net.parameters())}", flush=True)


if __name__ == "__main__":
    main()
