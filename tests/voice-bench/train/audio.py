"""Make the bench's audio: test speech by an engine never trained on (pico), human recordings, talk and noise.

Usage: audio.py UNPACKED_ROOT DICTIONARY WORDLIST TALK.txt OUT_FOLDER [check]   (needs pico2wave and ffmpeg)
With `check` the same phrases at other speeds and pitches, other noise and other talk: a second bench on which no threshold was
chosen.
Writes speech.npz (clips) + speech.json (what each says), and negative_*.npy (int16, 16 kHz) streams.
"""

import json
import random
import re
import subprocess
import sys
from pathlib import Path

import numpy as np

from human import decode
from noise import HELD_OUT, TRAIN, pool
from speak import RATE, load_wav, trim
from texts import VOCABULARY, near_misses, phones_of, read_dictionary, sentences, word_pool

VOICES = [("en-GB", 100, 100), ("en-US", 100, 100), ("en-GB", 125, 88), ("en-US", 120, 112), ("en-GB", 85, 112), ("en-US", 88, 85),
          ("en-GB", 110, 120), ("en-US", 112, 78), ("en-GB", 92, 80), ("en-US", 100, 125)]

CHECK_VOICES = [("en-GB", 104, 94), ("en-US", 96, 106), ("en-GB", 118, 106), ("en-US", 124, 92), ("en-GB", 88, 96), ("en-US", 92, 118),
                ("en-GB", 98, 115), ("en-US", 106, 84), ("en-GB", 108, 84), ("en-US", 110, 104)]


def pico(text: str, voice: tuple[str, int, int]) -> np.ndarray:
    language, speed, pitch = voice
    marked = f"<speed level='{speed}'><pitch level='{pitch}'>{text}</pitch></speed>"
    subprocess.run(["pico2wave", "-l", language, "-w", "/dev/shm/pico.wav", marked], check=True)
    return load_wav(Path("/dev/shm/pico.wav"))


def main() -> None:
    root, dictionary = Path(sys.argv[1]), read_dictionary(Path(sys.argv[2]))
    words, out = word_pool(Path(sys.argv[3]), dictionary), Path(sys.argv[5])
    check = len(sys.argv) > 6
    voices, other = (CHECK_VOICES, 31) if check else (VOICES, 0)  # `other` moves every seed
    out.mkdir(parents=True, exist_ok=True)
    clips: list[np.ndarray] = []
    items: list[dict[str, str]] = []

    def add(x: np.ndarray, text: str, kind: str, target: str, voice: str) -> None:
        clips.append((x / np.abs(x).max() * 20000).astype(np.int16))
        items.append({"text": text, "kind": kind, "target": target, "voice": voice})

    for voice in voices:
        name = "pico " + " ".join(map(str, voice))
        for text in VOCABULARY["stop"]:
            add(pico(text, voice), text, "stop", text, name)
        for text in VOCABULARY["words"]:
            add(pico(text, voice), text, "word", text, name)
        for text in VOCABULARY["holds"]:
            add(pico(text, voice), text, "hold", text, name)
    rng = random.Random(5 + other)
    for n in range(120):
        figures = VOCABULARY["figures"]
        digits = [rng.choice(figures[:14]) for _ in range(rng.randint(2, 4))]
        text = " ".join(digits[:-1] + [rng.choice(("decimal", "point")), digits[-1]]) if n % 3 else rng.choice(figures[14:])
        voice = voices[n % len(voices)]
        add(pico(text, voice), text, "figure", text, "pico " + " ".join(map(str, voice)))
    for n, (target, text) in enumerate(near_misses()):
        voice = voices[n % len(voices)]
        add(pico(text, voice), text, "near", target, "pico " + " ".join(map(str, voice)))
    human = json.loads((Path(__file__).parent.parent / "human.json").read_text())
    folder = root / "ast/en/usr/share/asterisk/sounds/en_US_f_Allison"
    used = set()
    for name, text in human["phrases"].items():
        if not (folder / f"{name}.g722").exists():
            continue
        add(trim(decode(folder / f"{name}.g722")), text, "human-hold", text, "human")
        used.add(name)
    for name, text in human["figures"].items():
        if not (folder / f"{name}.g722").exists():
            continue
        add(trim(decode(folder / f"{name}.g722")), text, "human-figure", text, "human")
    stamps = root / "tuxpaint-stamps-default/usr/share/tuxpaint/stamps"
    for path in sorted(stamps.rglob("*_desc.ogg")):  # several people, one caption each
        caption = path.with_name(path.name.replace("_desc.ogg", ".txt"))
        if not caption.exists():
            continue
        text = re.sub(r"[^a-z ]", "", caption.read_text(errors="replace").splitlines()[0].lower())
        if len(text.split()) > 1 and phones_of(text, dictionary):
            add(trim(decode(path)), text, "people-hold", text, "people")
    for n, text in enumerate("zero one two three four five six seven eight nine".split()):
        add(trim(decode(stamps / f"symbols/math/{n}_en_GB.ogg")), text, "people-figure", text, "people")
    np.savez(out / "speech.npz", flat=np.concatenate(clips), lengths=np.array([len(c) for c in clips], np.int64))
    (out / "speech.json").write_text(json.dumps(items))

    def stream(name: str, parts: list[np.ndarray]) -> None:
        gap = np.zeros(RATE // 2, np.int16)
        x = np.concatenate([p for part in parts for p in ((part * 32767).clip(-32767, 32767).astype(np.int16), gap)])
        np.save(out / f"negative_{name}.npy", x)
        print(name, f"{len(x) / RATE / 3600:.2f} h", flush=True)

    def folder_of(path: Path, skip: set[str]) -> list[np.ndarray]:
        found = [p for p in sorted(path.rglob("*.g722")) if str(p.relative_to(path).with_suffix("")) not in skip and "silence" not in str(p)]
        return [x for x in (decode(p) for p in found) if len(x) > 1000]

    stream("human_en", folder_of(folder, used))
    stream("human_es", folder_of(root / "ast/es/usr/share/asterisk/sounds/es_MX_f_Allison", set()))
    stream("human_ru", folder_of(root / "ast/ru/usr/share/asterisk/sounds/ru_RU_f_IvrvoiceRU", set()))
    spoken = [line.split() for line in Path(sys.argv[4]).read_text().splitlines()]
    talk = sentences(4000, 4242 + other, dictionary, words, spoken[len(spoken) * 9 // 10 :], commands_too=False)
    commands = {c.lower() for c in VOCABULARY["words"] + VOCABULARY["stop"]}
    talk = [" ".join(talk[i : i + 3]) for i in range(0, len(talk) - 3, 3) if not any(c in " ".join(talk[i : i + 3]) for c in commands)]
    stream("talk", [pico(t, voices[n % len(voices)]) * 0.5 for n, t in enumerate(talk)])
    np.save(out / "negative_noise.npy", np.concatenate([pool(40, 777000 + 50 * other, TRAIN), pool(20, 888000 + 50 * other, HELD_OUT)]))
    np.save(out / "noise_mix.npy", np.concatenate([pool(12, 555000 + 50 * other, TRAIN), pool(8, 666000 + 50 * other, HELD_OUT)]))
    print(len(items), "clips")


if __name__ == "__main__":
    main()
