"""The acoustic model: streaming convolutions over log-mel, one column of scores every 30 ms.

Two outputs: phones, in which any phrase can be searched, and, from two blocks more, the app's own commands and the words of
figures. Weights: about 5.7 million. Looks ahead 150 ms in all, behind 2.5 s. Everything here has its twin in src/hear.
"""

import torch
from torch import nn
from torch.nn import functional as F

from texts import TOKENS

RATE, WINDOW, HOP, FFT, MELS, STACK = 16000, 400, 160, 512, 40, 3
LOW, HIGH = 80.0, 7600.0
FLOOR = 1e-6
MEMORY = 200  # frames of 10 ms over which the running background forgets
CHANNELS, WIDE, OUTPUTS = 384, 896, 40
WORDS = len(TOKENS) + 1
KERNEL = 9
DILATIONS = (1, 1, 1, 2, 2, 4, 2, 4)
WORD_BLOCKS = 2  # the last of them are the words' own
LOOKAHEAD = (1, 1, 1, 1, 0, 0, 0, 0)  # in frames of 30 ms; the first layer adds one more


def mel_filters(warp: float = 1.0) -> torch.Tensor:
    """[257, MELS] triangular filters, HTK mel scale; `warp` scales the frequency axis (vocal tract length)."""
    def mel(f: torch.Tensor) -> torch.Tensor:
        return 2595 * torch.log10(1 + f / 700)

    edges = torch.linspace(mel(torch.tensor(LOW)).item(), mel(torch.tensor(HIGH)).item(), MELS + 2)
    hertz = 700 * (10 ** (edges / 2595) - 1) * warp
    bins = torch.arange(FFT // 2 + 1) * RATE / FFT
    up = (bins[:, None] - hertz[None, :-2]) / (hertz[1:-1] - hertz[:-2])
    down = (hertz[None, 2:] - bins[:, None]) / (hertz[2:] - hertz[1:-1])
    return torch.clamp(torch.minimum(up, down), min=0)


def background_matrix(frames: int) -> torch.Tensor:
    """[frames, frames] weights of the running background: a cumulative mean that turns into a leaky one."""
    w = torch.zeros(frames, frames, dtype=torch.float64)
    row = torch.zeros(frames, dtype=torch.float64)
    for t in range(frames):
        a = max(1 / (t + 1), 1 / MEMORY)
        row = row * (1 - a)
        row[t] += a
        w[t] = row
    return w.float()


class Features(nn.Module):
    """Audio [B, N] in -1..1 -> [B, T, STACK * MELS * 2], one row every 30 ms."""

    def __init__(self) -> None:
        super().__init__()
        self.register_buffer("window", torch.hann_window(WINDOW, periodic=True))
        self.register_buffer("filters", torch.stack([mel_filters(0.84 + 0.02 * i) for i in range(17)]))
        self._matrix: dict[int, torch.Tensor] = {}

    def forward(self, audio: torch.Tensor, warps: torch.Tensor | None = None) -> torch.Tensor:
        """`warps` [B] picks a filter set per clip; 8 (no warp) by default."""
        frames = audio.unfold(1, WINDOW, HOP) * self.window
        power = torch.fft.rfft(frames, FFT).abs() ** 2
        filters = self.filters[8] if warps is None else self.filters[warps]
        x = torch.log(power @ filters + FLOOR)
        t = x.shape[1] // STACK * STACK
        x = x[:, :t]
        if t not in self._matrix:
            self._matrix[t] = background_matrix(t).to(x.device)
        y = x - self._matrix[t] @ x
        both = torch.cat([(x + 6) * 0.25, y * 0.5], dim=2)
        return both.reshape(x.shape[0], t // STACK, STACK * MELS * 2)


class Block(nn.Module):
    def __init__(self, dilation: int, ahead: int) -> None:
        super().__init__()
        self.left, self.right = (KERNEL - 1) * dilation - ahead, ahead
        self.depth = nn.Conv1d(CHANNELS, CHANNELS, KERNEL, groups=CHANNELS, dilation=dilation, bias=False)
        self.norm1 = nn.BatchNorm1d(CHANNELS)
        self.up = nn.Conv1d(CHANNELS, WIDE, 1, bias=False)
        self.norm2 = nn.BatchNorm1d(WIDE)
        self.down = nn.Conv1d(WIDE, CHANNELS, 1)
        self.drop = nn.Dropout(0.05)

    def forward(self, x: torch.Tensor) -> torch.Tensor:
        y = self.norm1(self.depth(F.pad(x, (self.left, self.right))))
        return x + self.drop(self.down(F.relu(self.norm2(self.up(y)))))


class Net(nn.Module):
    """[B, T, 240] -> logits [B, T, OUTPUTS] of phones and [B, T, WORDS] of words; column t has seen input up to t + 5."""

    def __init__(self) -> None:
        super().__init__()
        self.stem = nn.Conv1d(STACK * MELS * 2, CHANNELS, 2)
        self.norm = nn.BatchNorm1d(CHANNELS)
        self.blocks = nn.ModuleList(Block(d, a) for d, a in zip(DILATIONS, LOOKAHEAD))
        self.out = nn.Conv1d(CHANNELS, OUTPUTS, 1)
        self.words = nn.Conv1d(CHANNELS, WORDS, 1)

    def forward(self, x: torch.Tensor) -> tuple[torch.Tensor, torch.Tensor]:
        y = F.relu(self.norm(self.stem(F.pad(x.transpose(1, 2), (0, 1)))))
        for block in self.blocks[:-WORD_BLOCKS]:
            y = block(y)
        phones = self.out(F.relu(y)).transpose(1, 2)
        for block in self.blocks[-WORD_BLOCKS:]:
            y = block(y)
        return phones, self.words(F.relu(y)).transpose(1, 2)
