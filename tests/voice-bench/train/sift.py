"""Drop the clips that fit their labels worst: sift.py EAR.bin SHARE FILE.npz (rewrites FILE)

A finished model reads each clip; the SHARE of clips with the greatest loss a phone goes. What a speaker said differently from
the caption, or not at all, is among it; so is some that is only hard.
"""

import sys

import numpy as np
import torch
from torch.nn import functional as F

from export import Folded
from pack import compand, unpack


def main() -> None:
    net, share, path = Folded(sys.argv[1]), float(sys.argv[2]), sys.argv[3]
    data = unpack(path)
    ends, phone_ends, token_ends = (np.cumsum(data[n]) for n in ("lengths", "phone_counts", "token_counts"))
    losses = []
    rows: list[tuple[slice, slice, slice]] = []
    for i, n in enumerate(data["lengths"]):
        at = slice(ends[i] - n, ends[i])
        labels = slice(phone_ends[i] - data["phone_counts"][i], phone_ends[i])
        rows.append((at, labels, slice(token_ends[i] - data["token_counts"][i], token_ends[i])))
        x = np.concatenate([np.zeros(4000, np.float32), data["flat"][at].astype(np.float32) / 32768, np.zeros(4000, np.float32)])
        logp = torch.from_numpy(net(x)[:, :40])[:, None]
        y = torch.from_numpy(data["phones"][labels].astype(np.int64))[None]
        losses.append(float(F.ctc_loss(logp, y, torch.tensor([len(logp)]), torch.tensor([y.shape[1]]), reduction="sum")) / y.shape[1])
    limit = np.quantile(losses, 1 - share)
    good = [r for r, loss in zip(rows, losses) if loss <= limit]
    np.savez_compressed(
        path, flat=compand(np.concatenate([data["flat"][a] for a, _, _ in good])), lengths=np.array([a.stop - a.start for a, _, _ in good], np.int64),
        phones=np.concatenate([data["phones"][p] for _, p, _ in good]), phone_counts=np.array([p.stop - p.start for _, p, _ in good], np.int64),
        tokens=np.concatenate([data["tokens"][t] for _, _, t in good]), token_counts=np.array([t.stop - t.start for _, _, t in good], np.int64))
    print(f"{path}: kept {len(good)} of {len(rows)}; loss a phone, quartiles {np.quantile(losses, [0.1, 0.25, 0.5, 0.75, 0.9]).round(2)}, limit {limit:.2f}")


if __name__ == "__main__":
    main()
