"""Speak sentences with several synthesis engines, in parallel, into one flat int16 array at 16 kHz.

Engines: espeak-ng (formant), flite (clustergen and diphone), festival (diphone and HTS). Another engine
(pico) is kept for the test alone. Usage: speak.py OUT.npz COUNT SEED DICTIONARY WORDLIST TALK.txt PROCESSES (the last tenth of TALK is for the bench)
"""

import random
import re
import subprocess
import sys
import tempfile
import wave
from multiprocessing import Pool
from pathlib import Path

import numpy as np
from scipy.signal import resample_poly

from texts import phones_of, read_dictionary, sentences, tokens_of, word_pool

RATE = 16000
ESPEAK = ["en-us", "en-us", "en-gb", "en-gb-x-rp", "en-gb-scotland", "en-gb-x-gbcwmd", "en-gb-x-gbclan", "en-029"]
VARIANTS = ["m1", "m2", "m3", "m4", "m5", "m6", "m7", "f1", "f2", "f3", "f4", "f5", "klatt", "klatt2", "klatt3", "klatt4", ""]
ALL_VARIANTS = sorted(
    p.name for p in Path("/usr/lib/x86_64-linux-gnu/espeak-ng-data/voices/!v").glob("*") if not re.search("whisper|obot|test|croak", p.name)
)  # about ninety: characters of one engine, but no two with the same formants
FLITE = ["kal16", "awb", "rms", "slt"]
FESTIVAL = ["kal_diphone", "ked_diphone", "cmu_us_slt_arctic_hts"]


def load_wav(path: Path) -> np.ndarray:
    """Mono float32 at 16 kHz, silence trimmed at both ends to 40 ms."""
    with wave.open(str(path)) as f:
        rate, data = f.getframerate(), np.frombuffer(f.readframes(f.getnframes()), np.int16)
    x = data.astype(np.float32) / 32768
    if rate != RATE:
        g = np.gcd(rate, RATE)
        x = resample_poly(x, RATE // g, rate // g).astype(np.float32)
    return trim(x)


def trim(x: np.ndarray) -> np.ndarray:
    """Cut leading and trailing parts more than 45 dB below the loudest 20 ms."""
    n = len(x) // 320
    if n == 0:
        return x
    power = (x[: n * 320].reshape(n, 320) ** 2).mean(1)
    live = np.nonzero(power > power.max() * 10**-4.5)[0]
    return x[max(0, live[0] * 320 - 640) : (live[-1] + 1) * 320 + 640]


def speak_espeak(text: str, rng: random.Random, out: Path) -> None:
    variant = rng.choice(ALL_VARIANTS if ALL_VARIANTS and rng.random() < 0.6 else VARIANTS)
    voice = rng.choice(ESPEAK) + (f"+{variant}" if variant else "")
    speed, pitch = rng.randint(120, 230), rng.randint(20, 85)
    subprocess.run(["espeak-ng", "-v", voice, "-s", str(speed), "-p", str(pitch), "-w", out, text], check=True)


def speak_flite(text: str, rng: random.Random, out: Path) -> None:
    stretch = rng.uniform(0.75, 1.3)
    pitch = rng.uniform(85, 210)
    subprocess.run(
        ["flite", "-voice", rng.choice(FLITE), "--setf", f"duration_stretch={stretch:.2f}",
         "--setf", f"int_f0_target_mean={pitch:.0f}", "-t", text, "-o", out], check=True, stdout=subprocess.DEVNULL)


def speak_festival(items: list[tuple[int, str]], rng: random.Random, folder: Path) -> None:
    """One festival process for many sentences: its start costs more than its speech."""
    lines = []
    for n, text in items:
        lines.append(f"(voice_{rng.choice(FESTIVAL)})")
        lines.append(f"(Parameter.set 'Duration_Stretch {rng.uniform(0.75, 1.25):.2f})")
        lines.append(f'(utt.save.wave (utt.synth (Utterance Text "{text}")) "{folder}/{n}.wav" \'riff)')
    script = folder / "say.scm"
    script.write_text("\n".join(lines))
    subprocess.run(["festival", "-b", str(script)], check=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def chunk(job: tuple[int, list[tuple[int, str]]]) -> list[tuple[int, np.ndarray]]:
    seed, items = job
    rng = random.Random(seed)
    out: list[tuple[int, np.ndarray]] = []
    with tempfile.TemporaryDirectory(dir="/dev/shm") as name:
        folder = Path(name)
        by_festival = [it for it in items if rng.random() < 0.27]
        if by_festival:
            speak_festival(by_festival, rng, folder)
        done = {n for n, _ in by_festival}
        for n, text in items:
            if n not in done:
                (speak_espeak if rng.random() < 0.38 else speak_flite)(text, rng, folder / f"{n}.wav")
        for n, _ in items:
            path = folder / f"{n}.wav"
            if path.exists():
                try:
                    x = load_wav(path)
                except (wave.Error, EOFError, IndexError):
                    continue
                peak = np.abs(x).max() if len(x) else 0
                if 2400 < len(x) < 4.2 * RATE and peak > 0.01:
                    out.append((n, (x / peak * 20000).astype(np.int16)))
    return out


def main() -> None:
    out, count, seed, dictionary_path, words, talk_path, processes = sys.argv[1:8]
    dictionary = read_dictionary(Path(dictionary_path))
    pool_words = word_pool(Path(words), dictionary)
    talk = [line.split() for line in Path(talk_path).read_text().splitlines()]
    texts = sentences(int(count), int(seed), dictionary, pool_words, talk[: len(talk) * 9 // 10])
    items = list(enumerate(texts))
    jobs = [(int(seed) * 100003 + i, items[i : i + 60]) for i in range(0, len(items), 60)]
    with Pool(int(processes)) as pool:
        spoken = [pair for part in pool.imap_unordered(chunk, jobs) for pair in part]
    spoken.sort(key=lambda p: p[0])
    flat = np.concatenate([x for _, x in spoken])
    lengths = np.array([len(x) for _, x in spoken], np.int64)
    phones = [phones_of(texts[n], dictionary) or [] for n, _ in spoken]
    tokens = [tokens_of(texts[n]) for n, _ in spoken]
    np.savez(out + ".part.npz", tokens=np.concatenate([np.array(t, np.int16) for t in tokens]), token_counts=np.array([len(t) for t in tokens], np.int64), flat=flat, lengths=lengths, phones=np.concatenate([np.array(p, np.int16) for p in phones]),
             phone_counts=np.array([len(p) for p in phones], np.int64))
    Path(out + ".part.npz").rename(out)  # whole or not there: training picks it up as soon as it sees it
    print(f"spoke {len(spoken)} of {count}, {len(flat) / RATE / 3600:.2f} h", flush=True)


if __name__ == "__main__":
    main()
