#!/bin/sh
# The runs that made assets/voice/ear.bin, one accelerator (H100) and 16 cores. ROOT, DICT, WORDS as in the README.
set -e
: "${ROOT:?}" "${DICT:?}" "${WORDS:?}"
cd "$(dirname "$0")"
python3 human.py "$ROOT" "$DICT" human-only.npz talk.npy
python3 borrowed.py "$DICT" "$WORDS" borrowed.npz
python3 pack.py human.npz human-only.npz borrowed.npz

# First stage: 80,000 sentences, seed 11, 350 s, 16,029 steps. It ran with an earlier form of these scripts: only 367 of the
# human clips, each counted 12 times, narrower ranges of rate, warp and colour, and no masking.
python3 speak.py spoken-11.npz 80000 11 "$DICT" "$WORDS" 16
python3 shop.py noise-11.npy 64 9011 16
python3 train.py spoken-11.npz,human-only.npz noise-11.npy stage1.pt 350 11 talk.npy

# Second stage: new sentences (68,000, seed 12) and the human and borrowed clips; it was cut short by the machine's time
# limit, so its last checkpoint (.part) was taken, then 370 s more, 14,686 steps.
python3 -c "import numpy as np; from train import unpack; np.save('talk-all.npy', unpack(np.load('human.npz'))['flat'])"
python3 speak.py spoken-12.npz 68000 12 "$DICT" "$WORDS" 16
python3 shop.py noise-12.npy 64 9012 16
python3 train.py spoken-12.npz,human.npz noise-12.npy stage2.pt 395 12 talk-all.npy stage1.pt
python3 train.py spoken-12.npz,human.npz noise-12.npy stage3.pt 370 13 talk-all.npy stage2.pt
python3 export.py stage3.pt ../../../assets/voice/ear.bin
