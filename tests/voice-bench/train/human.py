"""Human recordings from Debian packages, with phone labels, in the same form as speak.py's output.

English words and letters (ktuberling-data, klettres-data) are labelled from the dictionary; counting words,
days and months in French, Italian and Spanish (asterisk-core-sounds-fr/-it, asterisk-prompt-fr-armelle,
-it-menardi, -es-co) are labelled with the nearest English phones of espeak-ng's transcription. The English
speaker of asterisk-core-sounds-en is kept for the test; the Spanish core sounds are the same person, so they are too.

Usage: human.py UNPACKED_ROOT DICTIONARY OUT.npz TALK.npy   (needs ffmpeg and espeak-ng)
"""

import re
import subprocess
import sys
from pathlib import Path

import numpy as np

from speak import RATE, trim
from texts import PHONES, phones_of, read_dictionary

LETTERS = dict(zip("abcdefghijklmnopqrstuvwxyz", (
    "EY|B IY|S IY|D IY|IY|EH F|JH IY|EY CH|AY|JH EY|K EY|EH L|EH M|EH N|OW|P IY|K Y UW|AA R|EH S|T IY|Y UW|V IY|"
    "D AH B AH L Y UW|EH K S|W AY|Z IY").split("|")))
FIXED = {"palmtree": "palm tree", "fallingstar": "falling star", "moonwalker": "moon walker", "broccolli": "broccoli", "tv": ""}
COUNT = {
    "fr": "zéro un deux trois quatre cinq six sept huit neuf dix onze douze treize quatorze quinze seize dix-sept dix-huit dix-neuf",
    "it": "zero uno due tre quattro cinque sei sette otto nove dieci undici dodici tredici quattordici quindici sedici diciassette diciotto diciannove",
    "es": "cero uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince dieciséis diecisiete dieciocho diecinueve",
}
TENS = {
    "fr": "vingt trente quarante cinquante soixante",
    "it": "venti trenta quaranta cinquanta sessanta settanta ottanta novanta",
    "es": "veinte treinta cuarenta cincuenta sesenta setenta ochenta noventa",
}
DAYS = {
    "fr": "dimanche lundi mardi mercredi jeudi vendredi samedi",
    "it": "domenica lunedì martedì mercoledì giovedì venerdì sabato",
    "es": "domingo lunes martes miércoles jueves viernes sábado",
}
MONTHS = {
    "fr": "janvier février mars avril mai juin juillet août septembre octobre novembre décembre",
    "it": "gennaio febbraio marzo aprile maggio giugno luglio agosto settembre ottobre novembre dicembre",
    "es": "enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre",
}
# Nearest English phone of each sound espeak-ng writes for these three languages; longest match first.
NEAREST = [
    ("tʃ", "CH"), ("dʒ", "JH"), ("ts", "T S"), ("dz", "D Z"), ("ɲ", "N Y"), ("ʎ", "L Y"), ("ɑ̃", "AA N"), ("ɔ̃", "OW N"),
    ("ɛ̃", "AE N"), ("œ̃", "AH N"), ("ʃ", "SH"), ("ʒ", "ZH"), ("θ", "S"), ("ð", "DH"), ("β", "V"), ("ɣ", "G"), ("ʁ", "R"),
    ("ɾ", "R"), ("r", "R"), ("ɥ", "W"), ("y", "IY"), ("ø", "ER"), ("œ", "ER"), ("ə", "AH"), ("ɛ", "EH"), ("e", "EY"), ("ɔ", "AO"),
    ("o", "OW"), ("a", "AA"), ("ɑ", "AA"), ("i", "IY"), ("ɪ", "IY"), ("u", "UW"), ("ʊ", "UW"), ("j", "Y"), ("w", "W"), ("x", "HH"),
    ("p", "P"), ("b", "B"), ("t", "T"), ("d", "D"), ("k", "K"), ("g", "G"), ("ɡ", "G"), ("f", "F"), ("v", "V"), ("s", "S"), ("z", "Z"),
    ("m", "M"), ("n", "N"), ("ŋ", "NG"), ("l", "L"), ("h", "HH"), ("ɦ", "HH"), ("ç", "HH"), ("æ", "AE"), ("ɐ", "AH"), ("ʌ", "AH"),
    ("ɒ", "AO"), ("ɜ", "ER"), ("ʉ", "UW"), ("ʋ", "V"), ("ɕ", "SH"), ("ʂ", "SH"), ("ʑ", "ZH"), ("ʐ", "ZH"), ("ɨ", "IH"), ("ʀ", "R"),
]
ALPHABETS = {"de": "de", "es": "es", "it": "it", "pt_BR": "pt-br", "nl": "nl", "hu": "hu", "nb": "nb", "fr": "fr", "cs": "cs", "da": "da", "lt": "lt"}


def decode(path: Path) -> np.ndarray:
    raw = subprocess.run(["ffmpeg", "-v", "error", "-i", str(path), "-ac", "1", "-ar", str(RATE), "-f", "f32le", "-"], capture_output=True, check=True).stdout
    return np.frombuffer(raw, np.float32)


def foreign(word: str, language: str) -> list[int]:
    ipa = subprocess.run(["espeak-ng", "-q", "-v", language, "--ipa", word], capture_output=True, text=True, check=True).stdout
    ipa = re.sub(r"[ˈˌː\s]", "", ipa)
    out: list[int] = []
    while ipa:
        for sign, phones in NEAREST:
            if ipa.startswith(sign):
                out += [PHONES.index(p) + 1 for p in phones.split()]
                ipa = ipa[len(sign) :]
                break
        else:
            ipa = ipa[1:]
    return out


def counting(folder: Path, language: str) -> list[tuple[Path, list[int]]]:
    names = {str(i): w for i, w in enumerate(COUNT[language].split())}
    names |= {str(20 + 10 * i): w for i, w in enumerate(TENS[language].split())}
    names |= {f"day-{i}": w for i, w in enumerate(DAYS[language].split())}
    names |= {f"mon-{i}": w for i, w in enumerate(MONTHS[language].split())}
    found = [(p, names[p.stem]) for p in sorted(folder.glob("digits/*")) if p.stem in names]
    return [(p, foreign(w, language)) for p, w in found]


def english(root: Path, dictionary: dict[str, list[str]]) -> list[tuple[Path, list[int]]]:
    out: list[tuple[Path, list[int]]] = []
    for path in sorted((root / "kl/usr/share/klettres").glob("en*/alpha/*.ogg")):
        letter = path.stem.lower()
        if letter in LETTERS and not (letter == "z" and "en_GB" in str(path)):
            out.append((path, [PHONES.index(p) + 1 for p in LETTERS[letter].split()]))
    words = [(p, p.stem) for p in sorted((root / "kl/usr/share/klettres").glob("en*/syllab/*.ogg")) if p.stem not in ("th", "ch")]
    words += [(p, p.stem.split("_")[-1]) for p in sorted((root / "kt/usr/share/ktuberling/sounds/en").glob("*.ogg"))]
    for path, word in words:
        phones = phones_of(FIXED.get(word, word), dictionary)
        if phones:
            out.append((path, phones))
    return out


def letters(root: Path) -> list[tuple[Path, list[int]]]:
    """Letters and syllables of klettres-data: one speaker a language, each file's text given in sounds.xml."""
    out: list[tuple[Path, list[int]]] = []
    for folder, language in ALPHABETS.items():
        for name, file in re.findall(r'<sound\s+name="([^"]+)"\s+file="([^"]+)"', (root / "kl/usr/share/klettres" / folder / "sounds.xml").read_text()):
            path = root / "kl/usr/share/klettres" / file
            if path.exists() and "&" not in name:
                out.append((path, foreign(name.lower(), language)))
    return out


def main() -> None:
    root, dictionary = Path(sys.argv[1]), read_dictionary(Path(sys.argv[2]))
    core = {"fr": "fr_CA_f_June", "it": "it_IT_m_Carlo"}
    items = english(root, dictionary) + letters(root)
    for language, name in core.items():
        items += counting(root / f"ast/{language}/usr/share/asterisk/sounds/{name}", language)
    items += counting(root / "ap/fr-armelle/usr/share/asterisk/sounds/fr", "fr")
    items += counting(root / "ap/it-menardi/usr/share/asterisk/sounds/it_IT_f_Menardi", "it")
    items += counting(root / "ap/es-co/usr/share/asterisk/sounds/es", "es")
    clips, labels = [], []
    for path, phones in items:
        x = trim(decode(path))
        if 1600 < len(x) < 3 * RATE and phones:
            clips.append((x / np.abs(x).max() * 20000).astype(np.int16))
            labels.append(np.array(phones, np.int16))
    np.savez_compressed(sys.argv[3], flat=np.concatenate(clips), lengths=np.array([len(c) for c in clips], np.int64),
                        phones=np.concatenate(labels), phone_counts=np.array([len(p) for p in labels], np.int64))
    talk = []
    for folder in (root / "ast/fr/usr/share/asterisk/sounds/fr_CA_f_June", root / "ast/it/usr/share/asterisk/sounds/it_IT_m_Carlo"):
        for path in sorted(folder.glob("*.g722"))[:110]:
            talk.append((decode(path) * 32767).astype(np.int16))
    np.save(sys.argv[4], np.concatenate(talk))
    print(f"{len(clips)} labelled clips, {sum(map(len, clips)) / RATE:.0f} s; talk {sum(map(len, talk)) / RATE:.0f} s")


if __name__ == "__main__":
    main()
