#!/bin/sh
# The run that made assets/voice/ear.bin, one accelerator (H100) and 16 cores. ROOT, DICT, WORDS as in the README; sift.py used the
# model before (seeds 11 to 13 of this file's history).
set -e
: "${ROOT:?}" "${DICT:?}" "${WORDS:?}" "${BEFORE:?an earlier ear.bin}"
cd "$(dirname "$0")"
python3 human.py "$ROOT" "$DICT" human-only.npz talk.npy
python3 people.py "$ROOT" "$DICT" raw-english.npz raw-people.npz
python3 sift.py "$BEFORE" 0.1 raw-english.npz
python3 sift.py "$BEFORE" 0.12 raw-people.npz
python3 pack.py human.npz human-only.npz
python3 pack.py en-people.npz raw-english.npz
python3 pack.py people.npz raw-people.npz
for n in human en-people people; do opusdec --quiet --rate 16000 $n.opus $n.wav; done
python3 -c "import numpy as np; from pack import unpack; np.save('talk-all.npy', unpack('human.npz')['flat'])"
python3 shop.py noise.npy 64 9021 12
# Sentences are spoken while training runs: five times 12,000, about 22 h.
(for i in 0 1 2 3 4; do python3 speak.py spoken-$i.npz 12000 $((40 + i)) "$DICT" "$WORDS" 15; done) &
python3 train.py 'spoken-?.npz=0.60,en-people.npz=0.10,people.npz=0.22,human.npz=0.08' noise.npy talk-all.npy net.pt 712 31
python3 export.py net.pt ../../../assets/voice/ear.bin
