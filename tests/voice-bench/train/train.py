"""Train the acoustic model with CTC on spoken sentences mixed with noise on the accelerator.

Usage: train.py SOURCES NOISE.npy TALK.npy OUT.pt SECONDS SEED [START.pt]
SOURCES is PATTERN=SHARE,...: files matching a pattern are drawn together in that share. New files are taken in as they come,
so that training can begin while other sentences are still being spoken. The learning rate falls to nothing over SECONDS of
wall clock, so the run always ends with a finished model; what is kept is a running mean of the weights.
"""

import glob
import math
import sys
import time

import numpy as np
import torch
from torch.nn import functional as F

from model import MELS, RATE, STACK, Features, Net
from pack import unpack

BATCH, CLIP = 192, 96240  # samples: 200 columns of 30 ms
PEAK_RATE = 2.5e-3
WORDS_WEIGHT = 0.5


class Group:
    """The clips of one pattern of files, on the accelerator."""

    def __init__(self, pattern: str, device: str) -> None:
        self.pattern, self.device, self.seen = pattern, device, set[str]()
        self.flat = torch.zeros(0, dtype=torch.int16, device=device)
        self.lengths = torch.zeros(0, dtype=torch.long, device=device)
        self.labels: dict[str, list[np.ndarray]] = {"phones": [], "tokens": []}

    def look(self) -> bool:
        """Takes in files that were not there before."""
        new = [p for p in sorted(glob.glob(self.pattern)) if p not in self.seen]
        for path in new:
            data = unpack(path)
            self.flat = torch.cat([self.flat, torch.from_numpy(data["flat"][: data["lengths"].sum()]).to(self.device)])
            self.lengths = torch.cat([self.lengths, torch.from_numpy(data["lengths"]).to(self.device)])
            for name, counts in (("phones", "phone_counts"), ("tokens", "token_counts")):
                self.labels[name] += np.split(data[name].astype(np.int64), np.cumsum(data[counts])[:-1])
            self.seen.add(path)
        if new:
            self.starts = torch.cumsum(self.lengths, 0) - self.lengths
            print(f"{self.pattern}: {len(self.lengths)} clips, {len(self.flat) / RATE / 3600:.2f} h", flush=True)
        return bool(new)


class Mixer:
    """Draws random clips: one or two sentences in a room, with noise, talk, filters, gain and clipping."""

    def __init__(self, sources: str, noise: str, talk: str, device: str, seed: int) -> None:
        pairs = [s.rsplit("=", 1) for s in sources.split(",")]
        self.device = device
        self.groups = [Group(p, device) for p, _ in pairs]
        self.shares = torch.tensor([float(s) for _, s in pairs], device=device)
        self.look()
        self.noise = torch.from_numpy(np.load(noise)).to(device)
        self.talk = torch.from_numpy(np.load(talk)).to(device)
        self.gen = torch.Generator(device=device).manual_seed(seed)

    def look(self) -> None:
        changed = [g.look() for g in self.groups]
        if not any(changed):
            return
        self.flat = torch.cat([g.flat for g in self.groups])
        self.lengths = torch.cat([g.lengths for g in self.groups])
        self.starts = torch.cumsum(self.lengths, 0) - self.lengths
        self.counts = torch.tensor([len(g.lengths) for g in self.groups], device=self.device)
        self.firsts = torch.cumsum(self.counts, 0) - self.counts
        self.phones = [p for g in self.groups for p in g.labels["phones"]]
        self.tokens = [t for g in self.groups for t in g.labels["tokens"]]

    def draw(self, b: int) -> torch.Tensor:
        group = torch.multinomial(self.shares * (self.counts > 0), b, replacement=True, generator=self.gen)
        at = (torch.rand(b, device=self.device, generator=self.gen) * self.counts[group]).long()
        return self.firsts[group] + at

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

    def batch(self) -> tuple[torch.Tensor, torch.Tensor, list[list[int]]]:
        """(audio, warps, the clips in each row)"""
        b = BATCH
        first, second = self.draw(b), self.draw(b)
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
        rows = [([u] if has else []) + ([v] if more else []) for u, v, has, more in zip(first.tolist(), second.tolist(), one.tolist(), two.tolist())]
        return mix, warps, rows

    def labels(self, of: list[np.ndarray], rows: list[list[int]]) -> tuple[torch.Tensor, torch.Tensor]:
        """(labels of all rows, one after the other; how many each row has)"""
        parts = [of[clip] for row in rows for clip in row]
        sizes = torch.tensor([sum(len(of[clip]) for clip in row) for row in rows], device=self.device)
        return torch.from_numpy(np.concatenate([*parts, np.zeros(0, np.int64)])).to(self.device), sizes

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


def ctc(logits: torch.Tensor, labels: torch.Tensor, sizes: torch.Tensor) -> torch.Tensor:
    logp = logits.float().log_softmax(2).transpose(0, 1)
    columns = torch.full((len(sizes),), logp.shape[0], device=logits.device, dtype=torch.long)
    return F.ctc_loss(logp, labels, columns, sizes, zero_infinity=True, reduction="sum")


def main() -> None:
    sources, noise, talk, out, seconds, seed = sys.argv[1:7]
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(int(seed))
    torch.backends.cuda.matmul.allow_tf32 = True
    torch.backends.cudnn.allow_tf32 = True
    torch.backends.cudnn.benchmark = True
    mixer = Mixer(sources, noise, talk, device, int(seed))
    features, net, kept = Features().to(device), Net().to(device), Net().to(device)
    if len(sys.argv) > 7:
        net.load_state_dict(torch.load(sys.argv[7], map_location=device))
    kept.load_state_dict(net.state_dict())
    pairs = [(a, b) for a, b in zip(kept.state_dict().values(), net.state_dict().values()) if a.is_floating_point()]
    optimiser = torch.optim.AdamW(net.parameters(), lr=1e-4, weight_decay=0.01)
    begun, step, shown = time.time(), 0, [0.0, 0.0]
    while (spent := time.time() - begun) < float(seconds):
        part = spent / float(seconds)
        rate = PEAK_RATE * min(1, step / 500 + 0.01) * (0.5 + 0.5 * math.cos(math.pi * part)) + 1e-6
        for group in optimiser.param_groups:
            group["lr"] = rate
        if step % 400 == 399:
            mixer.look()
        audio, warps, rows = mixer.batch()
        with torch.no_grad():
            x = mask(features(audio, warps), mixer)
        with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
            phones, words = net(x)
        labels, sizes = mixer.labels(mixer.phones, rows)
        loss = ctc(phones, labels, sizes) / sizes.sum().clamp(min=1)
        labels, sizes = mixer.labels(mixer.tokens, rows)
        word_loss = ctc(words, labels, sizes) / (sizes.sum() + 0.3 * len(rows))
        optimiser.zero_grad(set_to_none=True)
        (loss + WORDS_WEIGHT * word_loss).backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 2.0)
        optimiser.step()
        step += 1
        if step % 4 == 0:
            with torch.no_grad():
                torch._foreach_lerp_([a for a, _ in pairs], [b for _, b in pairs], 1 - min(0.996, step / (step + 200)))
        if step % 100 == 0 or device == "cpu":
            now = [loss.item(), word_loss.item()]
            shown = [0.8 * s + 0.2 * n if s else n for s, n in zip(shown, now)]
        if step % 500 == 0 or device == "cpu":
            print(f"{step} steps {spent:.0f} s loss {shown[0]:.4f} words {shown[1]:.4f} lr {rate:.2e}", flush=True)
        if step % 4000 == 0:
            torch.save(kept.state_dict(), out + ".part")
    torch.save(kept.state_dict(), out)
    print(f"done {step} steps, loss {shown[0]:.4f} words {shown[1]:.4f}, weights {sum(p.numel() for p in net.parameters())}", flush=True)


if __name__ == "__main__":
    main()
