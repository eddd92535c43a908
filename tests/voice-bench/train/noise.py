"""Workshop noise by script: machines, blows, air, hum and a radio, each from a seed.

`scene` mixes two or three sources. Families in HELD_OUT are heard in the bench only, never in training.
All functions return float32 at 16 kHz with a root mean square of one.
"""

import numpy as np
from scipy.signal import butter, lfilter, sosfilt

RATE = 16000


def level(x: np.ndarray) -> np.ndarray:
    return (x / (np.sqrt(np.mean(x**2)) + 1e-9)).astype(np.float32)


def coloured(n: int, slope: float, rng: np.random.Generator) -> np.ndarray:
    """Noise whose power falls by `slope` dB an octave."""
    spectrum = rng.normal(size=n // 2 + 1) + 1j * rng.normal(size=n // 2 + 1)
    f = np.maximum(np.arange(n // 2 + 1), n * 30 / RATE)
    return level(np.fft.irfft(spectrum * f ** (-slope / 6.02), n))


def band(x: np.ndarray, low: float, high: float) -> np.ndarray:
    return sosfilt(butter(2, [low, min(high, 7900)], "bandpass", fs=RATE, output="sos"), x)


def tones(n: int, base: float, count: int, fall: float, wobble: float, rng: np.random.Generator) -> np.ndarray:
    """Harmonics of a slowly wandering base frequency."""
    knots = np.arange(0, n + 4000, 4000)
    drift = np.interp(np.arange(n), knots, 1 + wobble * rng.normal(size=len(knots)).cumsum() * 0.2)
    phase = 2 * np.pi * np.cumsum(base * drift) / RATE
    x = np.zeros(n)
    for k in range(1, count + 1):
        if base * k * 1.3 < RATE / 2:
            x += np.sin(k * phase + rng.uniform(0, 6.28)) * k**-fall * rng.uniform(0.3, 1)
    return level(x)


def ring(rng: np.random.Generator, length: int, low: float, high: float, decay: float) -> np.ndarray:
    """One struck piece of metal: a few damped modes and a click."""
    t = np.arange(length) / RATE
    x = np.zeros(length)
    for _ in range(rng.integers(3, 9)):
        f = rng.uniform(low, high)
        x += rng.uniform(0.2, 1) * np.exp(-t / (decay * rng.uniform(0.3, 1.5))) * np.sin(2 * np.pi * f * t + rng.uniform(0, 6.28))
    return x + rng.normal(size=length) * np.exp(-t / 0.004) * 2


def strikes(n: int, times: np.ndarray, hit: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    x = np.zeros(n + len(hit))
    for t in times:
        if 0 <= t < n:
            x[t : t + len(hit)] += hit * rng.uniform(0.5, 1.2)
    return x[:n]


def gate(n: int, on: float, off: float, rng: np.random.Generator) -> np.ndarray:
    """Bursts: on for about `on` seconds, off for about `off`, with 30 ms edges."""
    g, t = np.zeros(n), int(rng.uniform(-on, off) * RATE)
    while t < n:
        length = int(rng.uniform(0.4, 1.6) * on * RATE)
        g[max(t, 0) : max(t + length, 0)] = 1
        t += length + int(rng.uniform(0.4, 1.6) * off * RATE)
    return lfilter([1 / 480], [1, -(1 - 1 / 480)], g)


def compressor(n, rng):
    rev = rng.uniform(8, 16)
    beat = 0.6 + 0.4 * np.maximum(0, np.sin(2 * np.pi * rev * np.arange(n) / RATE)) ** 2
    return level((coloured(n, rng.uniform(3, 6), rng) * 1.2 + tones(n, rng.uniform(45, 60), 30, 0.8, 0.002, rng)) * beat)


def impact_wrench(n, rng):
    rate = rng.uniform(14, 32)
    times = (np.cumsum(rng.normal(1, 0.06, int(n / RATE * rate) + 5)) / rate * RATE).astype(int)
    hits = strikes(n, times, ring(rng, 2400, 600, 6500, 0.012), rng)
    air = band(coloured(n, 0, rng), 1500, 7500)
    return level((level(hits) + 0.4 * level(air)) * (gate(n, 1.2, 0.8, rng) + 0.01))


def grinder(n, rng):
    return level((tones(n, rng.uniform(110, 260), 40, 0.3, 0.02, rng) + rng.uniform(0.5, 1.5) * level(band(coloured(n, -1, rng), 1800, 7800))) * (gate(n, 2.5, 1, rng) + 0.02))


def hammering(n, rng):
    times = (np.cumsum(rng.uniform(0.25, 0.9, int(n / RATE * 4))) * RATE).astype(int)
    return level(strikes(n, times, ring(rng, 6400, 400, 5000, 0.06), rng) + 0.01 * rng.normal(size=n))


def air_gun(n, rng):
    return level(band(coloured(n, -1, rng), rng.uniform(500, 2500), 7800) * (gate(n, 0.6, 0.7, rng) + 0.01))


def hum(n, rng):
    return level(tones(n, rng.choice([50, 60, 100]) * 1.0, 20, 0.9, 0.0, rng) + 0.5 * coloured(n, 4, rng))


def steady(n, rng):
    return coloured(n, rng.uniform(-2, 8), rng)


def dropped_tools(n, rng):
    x = 0.005 * rng.normal(size=n)
    for _ in range(max(1, int(n / RATE * 0.7))):
        start = rng.integers(0, n)
        bounce = start + (np.cumsum(0.25 * rng.uniform(0.5, 0.75) ** np.arange(6)) * RATE).astype(int)
        x += strikes(n, np.r_[start, bounce], ring(rng, 4800, 1500, 7500, 0.09), rng)
    return level(x)


def music(n, rng):
    x, t = np.zeros(n + RATE), 0
    beat = int(RATE * rng.uniform(0.25, 0.5))
    root = rng.uniform(110, 220)
    while t < n:
        for step in rng.choice([0, 3, 4, 7, 10, 12, 16, 19], 3):
            note = tones(beat, root * 2 ** (step / 12), 8, 1.0, 0.0, rng) * np.exp(-np.arange(beat) / RATE / 0.25)
            x[t : t + beat] += note
        x[t : t + 800] += rng.normal(size=800) * np.exp(-np.arange(800) / 200) * 2
        t += beat
    return level(band(x[:n], 200, 6000))


def bench_saw(n, rng):
    base = tones(n, rng.uniform(300, 700), 12, 0.5, 0.05, rng)
    load = 1 + 0.8 * gate(n, 1.5, 2, rng)
    return level((base + level(band(coloured(n, -3, rng), 2500, 7800))) * load)


def needle_scaler(n, rng):
    x = np.zeros(n)
    for _ in range(4):
        rate = rng.uniform(45, 75)
        times = (np.cumsum(rng.normal(1, 0.2, int(n / RATE * rate) + 5)) / rate * RATE).astype(int)
        x += strikes(n, times, ring(rng, 1200, 1500, 7500, 0.006), rng)
    return level(level(x) * (gate(n, 2, 1, rng) + 0.02))


def engine(n, rng):
    fire = tones(n, rng.uniform(12, 45), 60, 0.6, 0.03, rng)
    return level(fire * (1 + 0.3 * rng.normal(size=n)) + 0.4 * coloured(n, 3, rng))


TRAIN = [compressor, impact_wrench, grinder, hammering, air_gun, hum, steady, dropped_tools, music]
HELD_OUT = [bench_saw, needle_scaler, engine]


def scene(seconds: float, seed: int, families: list) -> np.ndarray:
    """One to three sources at random balance; root mean square one over the whole."""
    rng = np.random.default_rng(seed)
    n = int(seconds * RATE)
    x = np.zeros(n)
    for f in rng.choice(len(families), rng.integers(1, 4), replace=False):
        x += families[f](n, rng) * 10 ** (rng.uniform(-9, 0) / 20)
    return level(x)


def pool(minutes: float, seed: int, families: list, seconds: float = 12) -> np.ndarray:
    """Many scenes end to end, as int16 with a root mean square near 1000."""
    count = int(minutes * 60 / seconds)
    return np.concatenate([np.clip(scene(seconds, seed + i, families) * 1000, -32000, 32000).astype(np.int16) for i in range(count)])
