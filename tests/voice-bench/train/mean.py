"""The weighted mean of two nets of which one grew out of the other: mean.py A.pt SHARE B.pt SHARE OUT.pt

Two stages of one run make fewer of each other's mistakes; the mean heard the test voices better than either. The same holds for
the net before a second run with other sound and the net after it: the mean keeps what each heard best.
"""

import sys

import torch


def main() -> None:
    a, share_a, b, share_b, out = sys.argv[1:6]
    first, second = (torch.load(p, map_location="cpu") for p in (a, b))
    mixed = {k: float(share_a) * first[k].float() + float(share_b) * v.float() if v.is_floating_point() else v for k, v in second.items()}
    torch.save(mixed, out)


if __name__ == "__main__":
    main()
