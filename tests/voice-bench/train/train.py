"""Train the acoustic model with CTC on spoken sentences mixed with noise on one or more accelerators of one machine.

Usage: [torchrun --nproc-per-node N] train.py SOURCES NOISE.npy TALK.npy OUT.pt SECONDS SEED [START.pt]
SOURCES is PATTERN=SHARE,...: files matching a pattern are drawn together in that share. New files are taken in as they come,
so that training can begin while other sentences are still being spoken. The learning rate falls to nothing over SECONDS of
wall clock, so the run always ends with a finished model; what is kept is a running mean of the weights, in half precision.

Phones must be labelled two columns before the end of the clip and words before it; all later columns must be blank (clips end
40 ms after their sound). Left to itself the model shows a phone some 200 ms late, because the path does not matter to the loss.

Talk that the second output took for a command comes again soon, in other noise: such talk is rare, and so are false accepts.
"""

import glob
import math
import os
import sys
import time

import numpy as np
import torch
from torch import distributed
from torch.nn import functional as F

from model import HOP, MELS, RATE, STACK, Features, Net
from pack import unpack
from texts import FIGURES, STOPS

BATCH, CLIP = 192, 96240  # samples: 200 columns of 30 ms
PEAK_RATE = float(os.environ.get("PEAK", "2.5e-3"))
WORDS_WEIGHT = 0.7
SLACK, WORD_SLACK = -2, 0  # columns after the end of the clip in which labels may still come
HARD, KEPT_HARD = 0.08, 4000  # share of sentences that are hard ones again, and how many of them are kept
TAKEN_FOR_COMMAND = 0.7  # loss of a row without labels from which on its sentences are hard: a word is likelier than none
APART = 0.2  # seconds between two sentences from which on each stands alone
NONE = np.zeros(0, np.int64)
FIGURE_LABELS, STOP_LABELS = sorted(FIGURES), sorted(STOPS)


class Mixer:
    """Draws random clips: one or two sentences in a room, with noise, talk, filters, gain and clipping."""

    def __init__(self, sources: str, noise: str, talk: str, device: str, seed: int) -> None:
        pairs = [s.rsplit("=", 1) for s in sources.split(",")]
        self.device, self.patterns, self.seen = device, [p for p, _ in pairs], set[str]()
        self.shares = torch.tensor([float(s) for _, s in pairs], device=device)
        self.flat = torch.zeros(0, dtype=torch.int16, device=device)
        self.lengths = torch.zeros(0, dtype=torch.long, device=device)
        self.phones: list[np.ndarray] = []
        self.tokens: list[np.ndarray] = []
        self.members = [torch.zeros(0, dtype=torch.long, device=device) for _ in pairs]  # of each pattern, its clips
        self.look()
        self.noise = torch.from_numpy(np.load(noise)).to(device)
        self.talk = torch.from_numpy(np.load(talk)).to(device)
        self.gen = torch.Generator(device=device).manual_seed(seed)
        self.hard = torch.zeros(0, dtype=torch.long, device=device)

    def look(self) -> None:
        """Takes in files that were not there before, two at a time."""
        fresh = [(g, p) for g, pattern in enumerate(self.patterns) for p in sorted(glob.glob(pattern)) if p not in self.seen and ".part." not in p]
        for g, path in fresh[: 2 if len(self.lengths) else None]:
            data = unpack(path)
            before, count = len(self.lengths), len(data["lengths"])
            self.flat = torch.cat([self.flat, torch.from_numpy(data["flat"][: data["lengths"].sum()]).to(self.device)])
            self.lengths = torch.cat([self.lengths, torch.from_numpy(data["lengths"]).to(self.device)])
            self.phones += np.split(data["phones"].astype(np.int64), np.cumsum(data["phone_counts"])[:-1])
            self.tokens += np.split(data["tokens"].astype(np.int64), np.cumsum(data["token_counts"])[:-1])
            self.members[g] = torch.cat([self.members[g], torch.arange(before, before + count, device=self.device)])
            self.seen.add(path)
            print(f"{path}: {count} clips, {data['lengths'].sum() / RATE / 3600:.2f} h", flush=True)
        self.starts = torch.cumsum(self.lengths, 0) - self.lengths
        self.counts = torch.tensor([len(m) for m in self.members], device=self.device)
        self.firsts = torch.cumsum(self.counts, 0) - self.counts
        self.order = torch.cat(self.members)

    def draw(self, b: int) -> torch.Tensor:
        group = torch.multinomial(self.shares * (self.counts > 0), b, replacement=True, generator=self.gen)
        at = (torch.rand(b, device=self.device, generator=self.gen) * self.counts[group]).long()
        drawn = self.order[self.firsts[group] + at]
        if len(self.hard) < 200:
            return drawn
        again = self.hard[(torch.rand(b, device=self.device, generator=self.gen) * len(self.hard)).long()]
        return torch.where(self.uniform(0, 1, b) < HARD, again, drawn)

    def remember(self, rows: list[list[int]], losses: list[float]) -> None:
        """Keeps the sentences of the rows of plain talk whose loss says that a command was heard in them."""
        new = [clip for row, loss in zip(rows, losses) if loss > TAKEN_FOR_COMMAND and not any(len(self.tokens[c]) for c in row) for clip in row]
        if new:
            self.hard = torch.cat([self.hard, torch.tensor(new, device=self.device)])[-KEPT_HARD:]

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

    def batch(self) -> tuple[torch.Tensor, torch.Tensor, torch.Tensor, list[list[int]], list[bool]]:
        """(audio, warps, the sample in which each row's speech ends, the clips in each row, whether they run into each other)"""
        b = BATCH
        first, second = self.draw(b), self.draw(b)
        rate = self.uniform(0.8, 1.25, b)
        begin = self.uniform(0.05, 1.2, b) * RATE
        end = begin + self.lengths[first] / rate
        gap = self.uniform(-0.02, 0.7, b)
        begin2 = end + gap * RATE
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
        # Each scene once as it is and once more in another colour, so that nine families of noise are not nine spectra.
        start = torch.randint(len(self.noise) - CLIP, (b,), device=self.device, generator=self.gen)
        other = self.noise[start[:, None] + torch.arange(CLIP, device=self.device)].float()
        other = self.room(other, dry=True)
        noise = noise / ((noise**2).mean(1, keepdim=True).sqrt() + 1)
        other = other / ((other**2).mean(1, keepdim=True).sqrt() + 1)
        kind = self.uniform(0, 1, b, 1)
        noise = torch.where(kind < 0.4, noise, torch.where(kind < 0.7, other, noise + other * 10 ** (self.uniform(-12, 0, b, 1) / 20)))
        noise = noise / ((noise**2).mean(1, keepdim=True).sqrt() + 1e-3)
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
        last = torch.where(two, end2, torch.where(one, end, torch.zeros_like(end)))
        return mix, warps, last, rows, (two & (gap < APART)).tolist()

    def labels(self, parts: list[np.ndarray]) -> tuple[torch.Tensor, torch.Tensor]:
        """(labels of all rows, one after the other; how many each row has)"""
        sizes = torch.tensor([len(p) for p in parts], device=self.device)
        return torch.from_numpy(np.concatenate([*parts, np.zeros(0, np.int64)])).to(self.device), sizes

    def phones_in(self, rows: list[list[int]]) -> list[np.ndarray]:
        return [np.concatenate([NONE, *(self.phones[clip] for clip in row)]) for row in rows]

    def tokens_in(self, rows: list[list[int]], joined: list[bool]) -> list[np.ndarray]:
        """A command counts where it stands alone; figures may follow each other."""
        out = []
        for row, close in zip(rows, joined):
            tokens = np.concatenate([NONE, *(self.tokens[clip] for clip in row)])
            figures = len(tokens) and np.isin(tokens, FIGURE_LABELS).all() and all(len(self.tokens[clip]) for clip in row)
            out.append(tokens[np.isin(tokens, STOP_LABELS)] if close and not figures else tokens)
        return out

    def room(self, x: torch.Tensor, dry: bool = False) -> torch.Tensor:
        """A random reverberant tail and microphone colour for each clip (`dry`: the colour alone), in one trip through the spectrum."""
        b, n = x.shape[0], 1 << 17
        t = torch.arange(8000, device=self.device) / RATE
        decay = self.uniform(0.05, 0.45, b, 1) / 6.9
        tail = torch.randn(b, 8000, device=self.device, generator=self.gen) * torch.exp(-t / decay)
        tail = tail / (tail**2).sum(1, keepdim=True).sqrt()
        wet = 10 ** (self.uniform(-25, -3, b, 1) / 20)
        tail = tail * (0 if dry else wet)
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


def ctc(logits: torch.Tensor, labels: torch.Tensor, sizes: torch.Tensor, ends: torch.Tensor) -> torch.Tensor:
    """Loss of each row; columns from `ends` on must be blank, and the mean of theirs counts as much as one label."""
    logp = logits.float().log_softmax(2)
    late = torch.arange(logp.shape[1], device=logits.device)[None] >= ends[:, None]
    blank = (-logp[:, :, 0] * late).sum(1) / late.sum(1).clamp(min=1)
    return F.ctc_loss(logp.transpose(0, 1), labels, ends.clamp(min=1), sizes, zero_infinity=True, reduction="none") + blank


def mean_gradients(net: torch.nn.Module) -> None:
    parts = [p.grad for p in net.parameters() if p.grad is not None]
    flat = torch._utils._flatten_dense_tensors(parts)
    distributed.all_reduce(flat, op=distributed.ReduceOp.AVG)
    torch._foreach_copy_(parts, list(torch._utils._unflatten_dense_tensors(flat, parts)))


def save(net: torch.nn.Module, path: str) -> None:
    torch.save({k: v.half() if v.is_floating_point() else v for k, v in net.state_dict().items()}, path)


def main() -> None:
    sources, noise, talk, out, seconds, seed = sys.argv[1:7]
    rank, ranks = int(os.environ.get("RANK", "0")), int(os.environ.get("WORLD_SIZE", "1"))
    device = f"cuda:{rank}" if torch.cuda.is_available() else "cpu"
    if device != "cpu":
        torch.cuda.set_device(rank)
    if ranks > 1:
        distributed.init_process_group("nccl", device_id=torch.device(device))
    if rank:
        sys.stdout = open(os.devnull, "w")
    torch.manual_seed(int(seed))
    torch.backends.cuda.matmul.allow_tf32 = True
    torch.backends.cudnn.allow_tf32 = True
    torch.backends.cudnn.benchmark = True
    mixer = Mixer(sources, noise, talk, device, int(seed) + 7919 * rank)
    features, net, kept = Features().to(device), Net().to(device), Net().to(device)
    if len(sys.argv) > 7:
        net.load_state_dict({k: v.float() if v.is_floating_point() else v for k, v in torch.load(sys.argv[7], map_location=device).items()})
    kept.load_state_dict(net.state_dict())
    pairs = [(a, b) for a, b in zip(kept.state_dict().values(), net.state_dict().values()) if a.is_floating_point()]
    optimiser = torch.optim.AdamW(net.parameters(), lr=1e-4, weight_decay=0.01, fused=device != "cpu")
    forward = torch.compile(net) if os.environ.get("COMPILE") else net
    begun, step, shown = time.time(), 0, [0.0, 0.0]
    going = torch.ones(1, device=device)
    part = 0.0
    while True:
        if step % 10 == 0:
            # All machines' clocks must agree on when to stop.
            going[0] = (time.time() - begun) / float(seconds)
            if ranks > 1:
                distributed.all_reduce(going, op=distributed.ReduceOp.MAX)
            part = going.item()
            if part >= 1:
                break
        rate = PEAK_RATE * min(1, step / 500 + 0.01) * (0.5 + 0.5 * math.cos(math.pi * part)) + 1e-6
        for group in optimiser.param_groups:
            group["lr"] = rate
        if step % 200 == 199:
            mixer.look()
        audio, warps, last, rows, joined = mixer.batch()
        with torch.no_grad():
            x = mask(features(audio, warps), mixer)
            ends = (last / (HOP * STACK)).ceil().long().clamp(max=x.shape[1] - max(0, WORD_SLACK))
        with torch.autocast(device.split(":")[0], torch.bfloat16, enabled=device != "cpu"):
            phones, words = forward(x)
        labels, sizes = mixer.labels(mixer.phones_in(rows))
        loss = ctc(phones, labels, sizes, ends + SLACK).sum() / sizes.sum().clamp(min=1)
        labels, sizes = mixer.labels(mixer.tokens_in(rows, joined))
        word_losses = ctc(words, labels, sizes, ends + WORD_SLACK)
        word_loss = word_losses.sum() / (sizes.sum() + 0.3 * len(rows))
        if step % 4 == 0:
            mixer.remember(rows, word_losses.tolist())
        optimiser.zero_grad(set_to_none=True)
        (loss + WORDS_WEIGHT * word_loss).backward()
        if ranks > 1:
            mean_gradients(net)
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
            print(f"{step} steps {time.time() - begun:.0f} s loss {shown[0]:.4f} words {shown[1]:.4f} lr {rate:.2e} hard {len(mixer.hard)}", flush=True)
        if step % 2000 == 0 and rank == 0:
            save(kept, out + ".part")
    if rank == 0:
        save(kept, out)
        print(f"done {step} steps, loss {shown[0]:.4f} words {shown[1]:.4f}, weights {sum(p.numel() for p in net.parameters())}", flush=True)
    if ranks > 1:
        distributed.destroy_process_group()


if __name__ == "__main__":
    main()
