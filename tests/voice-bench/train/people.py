"""Recordings of many people from Debian packages, with phone labels, in the same form as human.py's output.

English from hedgewars-data, warzone2100-data, qabcs-data and scid-data; ten other languages from the spoken captions of
tuxpaint-stamps-default and the dialogues of fillets-ng-data-cs and -nl, their phones those of English nearest to what
espeak-ng writes. The English captions of tuxpaint-stamps-default are kept for the test. Labels may be wrong here and there
(a speaker who says something else, a caption changed since): train.py drops the clips that fit their labels worst.

Usage: people.py UNPACKED_ROOT DICTIONARY OUT_ENGLISH.npz OUT_OTHERS.npz   (needs ffmpeg, espeak-ng and unzip's python twin)
"""

import re
import subprocess
import sys
import zipfile
from functools import lru_cache
from multiprocessing import Pool
from pathlib import Path

import numpy as np

from human import LETTERS, NEAREST
from pack import compand
from speak import RATE, trim
from texts import PHONES, phones_of, read_dictionary, tokens_of

LONGEST = 5.4  # seconds
VOICE_FOLDERS = ("British", "Classic", "Default", "HillBilly", "Mobster", "Pirate", "Singer", "Surfer")
SHOUTS = {
    "Amazing": "amazing", "Boring": "boring", "Brilliant": "brilliant", "Byebye": "bye bye", "Comeonthen": "come on then", "Coward": "coward",
    "Cutitout": "cut it out", "Drat": "drat", "Enemydown": "enemy down", "Excellent": "excellent", "Fire": "fire", "Firstblood": "first blood",
    "Flawless": "flawless", "Flyaway": "fly away", "Gonnagetyou": "gonna get you", "Grenade": "grenade", "Hello": "hello", "Hurry": "hurry",
    "Illgetyou": "i'll get you", "Incoming": "incoming", "Justyouwait": "just you wait", "Kamikaze": "kamikaze", "Leavemealone": "leave me alone",
    "Melon": "melon", "Missed": "missed", "Ohdear": "oh dear", "Oops": "oops", "Reinforcements": "reinforcements", "Revenge": "revenge",
    "Runaway": "run away", "Sameteam": "same team", "Solong": "so long", "Stupid": "stupid", "Takecover": "take cover",
    "Thisoneismine": "this one is mine", "Traitor": "traitor", "Victory": "victory", "Watchit": "watch it", "Watchthis": "watch this",
    "Yessir": "yes sir", "Youllregretthat": "you'll regret that",
}
BOARD = dict(zip("1 2 3 4 5 6 7 8".split(), "one two three four five six seven eight".split())) | {
    w: w.lower() for w in ("Back", "Bishop", "Check", "King", "Knight", "Mate", "Queen", "Rook")}
CAPTIONS = {"fr": "fr-fr", "ru": "ru", "ro": "ro", "ca": "ca", "bg": "bg", "es": "es", "be": "be", "el": "el", "da": "da", "nl": "nl", "lt": "lt"}
# Signs of the added languages that human.py's table lacks; longest match first.
MORE = [("ɛj", "EY"), ("ɛɪ", "EY"), ("eɪ", "EY"), ("aɪ", "AY"), ("ai", "AY"), ("aj", "AY"), ("ʌu", "AW"), ("au", "AW"), ("ɔu", "OW"), ("oʊ", "OW"), ("oʋ", "OW"),
        ("œy", "OY"), ("øy", "OY"), ("ɔɪ", "OY"), ("oi", "OY"), ("dʑ", "JH"), ("tɕ", "CH"), ("tʂ", "CH"), ("dʐ", "JH"), ("ɡʲ", "G"), ("ɫ", "L"), ("ɭ", "L"), ("ɬ", "L"),
        ("χ", "HH"), ("ɣ", "G"), ("ʝ", "Y"), ("c", "K"), ("ɟ", "G"), ("ɖ", "D"), ("ʈ", "T"), ("ɱ", "M"), ("ɳ", "N"), ("ɕ", "SH"), ("ɤ", "AH"), ("ɯ", "UW"), ("ɵ", "ER"),
        ("ɘ", "AH"), ("ʏ", "IY"), ("ɒ", "AA"), ("ä", "AA"), ("ř", "R ZH"), ("r̝", "R ZH"), ("v", "V"), ("ɹ", "R"), ("ɻ", "R")]
SIGNS = sorted(MORE + NEAREST, key=lambda s: -len(s[0]))


def index(phones: str) -> list[int]:
    return [PHONES.index(p) + 1 for p in phones.split()]


@lru_cache(None)
def foreign(text: str, language: str) -> tuple[int, ...]:
    ipa = subprocess.run(["espeak-ng", "-q", "-v", language, "--ipa", text], capture_output=True, text=True, check=True).stdout
    if "(" in ipa:  # espeak-ng changed language inside the text: a loan word, best left out
        return ()
    ipa = re.sub(r"[ˈˌːˑʲʰˀ̯̃̊\s\-_|ʔ]", "", ipa)
    out: list[int] = []
    while ipa:
        for sign, phones in SIGNS:
            if ipa.startswith(sign):
                out += index(phones)
                ipa = ipa[len(sign) :]
                break
        else:
            ipa = ipa[1:]
    return tuple(out)


def english(root: Path, dictionary: dict[str, list[str]]) -> list[tuple[bytes, list[int], list[int]]]:
    """(recording, phones, tokens)"""
    said: list[tuple[bytes, str]] = []
    voices = root / "hedgewars-data/usr/share/games/hedgewars/Data/Sounds/voices"
    said += [(p.read_bytes(), SHOUTS[p.stem]) for v in VOICE_FOLDERS for p in sorted((voices / v).glob("*.ogg")) if p.stem in SHOUTS]
    with zipfile.ZipFile(root / "warzone2100-data/usr/share/games/warzone2100/base.wz") as z:
        at = {Path(n).name: n for n in z.namelist() if n.endswith(".ogg") and "/sfx/" not in n}
        text = z.read("audio/audio.cfg").decode("latin-1")
        lines = re.findall(r'audio\s+"([^"]+\.ogg)"\s+oneshot\s+\d+\s+\d+\s*/\*(.*?)\*/', text)
        lines += re.findall(r'"audio": "([^"]+)".*?"message": _\("([^"]+)"\)', z.read("script/tutorial.js").decode())
        for name, words in lines:
            if name in at:
                said.append((z.read(at[name]), re.sub(r"[^a-z' ]", " ", words.lower().replace("&", "and"))))
    words_at = root / "qabcs-data/usr/share/qabcs/abcs"
    said += [(p.read_bytes(), p.stem.replace("_", " ")) for p in sorted(words_at.glob("en*/sounds/words/*.ogg"))]
    said += [(p.read_bytes(), BOARD[p.stem]) for p in sorted((root / "scid-data/usr/share/scid/sounds").glob("*.wav")) if p.stem in BOARD]
    out = [(raw, phones, tokens_of(text)) for raw, text in said if (phones := phones_of(text, dictionary))]
    out += [(p.read_bytes(), index(LETTERS[p.stem]), []) for p in sorted(words_at.glob("en/sounds/alpha/*.ogg")) if p.stem in LETTERS]
    return out


def captions(root: Path) -> list[tuple[bytes, str, str]]:
    out: list[tuple[bytes, str, str]] = []
    for text in sorted((root / "tuxpaint-stamps-default/usr/share/tuxpaint/stamps").rglob("*.txt")):
        lines = dict(re.findall(r"^([a-zA-Z_]+)\.utf8=(.+)$", text.read_text(errors="replace"), re.M))
        for language, voice in CAPTIONS.items():
            sound = text.with_name(f"{text.stem}_desc_{language}.ogg")
            words = lines.get(language, "")
            if sound.exists() and words and len(words) < 70 and not re.search(r"\d|\(", words):
                out.append((sound.read_bytes(), words, voice))
    return out


def dialogues(root: Path) -> list[tuple[bytes, str, str]]:
    out: list[tuple[bytes, str, str]] = []
    for language in ("cs", "nl"):
        for script in sorted((root / "fillets-ng-data/usr/share/games/fillets-ng/script").glob(f"*/dialogs_{language}.lua")):
            pairs = re.findall(r'dialogId\("([^"]+)".*?\)\s*\ndialogStr\("([^"]+)"\)', script.read_text())
            for name, words in pairs:
                sound = root / f"fillets-ng-data-{language}/usr/share/games/fillets-ng/sound/{script.parent.name}/{language}/{name}.ogg"
                if sound.exists() and len(words) < 90 and not re.search(r"\d", words):
                    out.append((sound.read_bytes(), words, language))
    return out


def decoded(raw: bytes) -> np.ndarray | None:
    run = subprocess.run(["ffmpeg", "-v", "error", "-i", "-", "-ac", "1", "-ar", str(RATE), "-f", "f32le", "-"], input=raw, capture_output=True, check=False)
    x = np.frombuffer(run.stdout, np.float32)
    if len(x) < 1600 or not np.abs(x).max() > 0.005:
        return None
    x = trim(x)
    return (x / np.abs(x).max() * 20000).astype(np.int16) if 2400 < len(x) < LONGEST * RATE else None


def spoken(job: tuple[bytes, str, str]) -> tuple[np.ndarray | None, tuple[int, ...]]:
    return decoded(job[0]), foreign(job[1], job[2])


def keep(path: str, clips: list[tuple[np.ndarray | None, list[int] | tuple[int, ...], list[int]]]) -> None:
    """Only clips with a believable count of phones a second."""
    good = [(x, p, t) for x, p, t in clips if x is not None and len(p) > 1 and 3 < len(p) / (len(x) / RATE) < 24]
    flat = np.concatenate([x for x, _, _ in good])
    np.savez_compressed(path, flat=compand(flat), lengths=np.array([len(x) for x, _, _ in good], np.int64),
                        phones=np.concatenate([np.array(p, np.int16) for _, p, _ in good]), phone_counts=np.array([len(p) for _, p, _ in good], np.int64),
                        tokens=np.concatenate([np.array(t, np.int16) for _, _, t in good]), token_counts=np.array([len(t) for _, _, t in good], np.int64))
    print(f"{path}: {len(good)} of {len(clips)} clips, {len(flat) / RATE / 60:.1f} min", flush=True)


def main() -> None:
    root, dictionary = Path(sys.argv[1]), read_dictionary(Path(sys.argv[2]))
    with Pool(2) as pool:
        own = english(root, dictionary)
        keep(sys.argv[3], [(x, p, t) for x, (_, p, t) in zip(pool.map(decoded, [raw for raw, _, _ in own], 20), own)])
        keep(sys.argv[4], [(x, p, []) for x, p in pool.map(spoken, captions(root) + dialogues(root), 20)])


if __name__ == "__main__":
    main()
