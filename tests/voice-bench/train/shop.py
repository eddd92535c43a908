"""Write a noise pool: shop.py OUT.npy MINUTES SEED PROCESSES"""

import sys
from multiprocessing import Pool

import numpy as np

from noise import TRAIN, pool


def part(seed: int) -> np.ndarray:
    return pool(1.0, seed, TRAIN)


if __name__ == "__main__":
    out, minutes, seed, processes = sys.argv[1:5]
    with Pool(int(processes)) as workers:
        np.save(out, np.concatenate(workers.map(part, [int(seed) + 1000 * i for i in range(int(minutes))])))
