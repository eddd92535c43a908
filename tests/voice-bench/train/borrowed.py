"""More voices for training: English words in Italian, Czech and Finnish diphone voices, and Russian human sentences.

The diphone voices (Debian festvox-italp16k, -itapc16k, -czech-*, -suopuhe-*) are handed phone strings, so only words made
of sounds they own are spoken. festvox-ru holds a human speaker's recordings with phone times; they are cut at phone
boundaries. Usage: borrowed.py DICTIONARY WORDLIST OUT.npz
"""

import random
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np

from speak import RATE, load_wav
from texts import PHONES, read_dictionary, word_pool

ITALIAN = dict(IY="i1", EH="E1", AA="a1", AO="O1", UW="u1", AY="a1 i", EY="e1 i", OW="o1 u", AW="a1 u", OY="O1 i", P="p", T="t", K="k", B="b",
               D="d", G="g", CH="tS", JH="dZ", F="f", V="v", S="s", Z="z", SH="S", M="m", N="n", NG="ng", L="l", R="r", W="w", Y="j")
CZECH = dict(IY="i:", EH="e", AA="a:", AO="o:", UW="u:", AY="a j", EY="e j", OW="o u", AW="a u", OY="o j", P="p", T="t", K="k", B="b", D="d",
             G="g", CH="c~", F="f", V="v", S="s", Z="z", SH="s~", ZH="z~", HH="h", M="m", N="n", NG="n*", L="l", R="r", Y="j")
FINNISH = dict(IY="i:", EH="e", AE="&", AA="a:", AO="o:", UW="u:", AY="a i", EY="e i", OW="o u", AW="a u", P="p", T="t", K="k", D="d",
               F="f", S="s", HH="h", M="m", N="n", L="l", R="r", Y="j", V="v")
VOICES = {"lp_diphone": ITALIAN, "pc_diphone": ITALIAN, "czech_dita": CZECH, "czech_krb": CZECH, "czech_machac": CZECH, "czech_ph": CZECH,
          "hy_fi_mv_diphone": FINNISH, "suo_fi_lj_diphone": FINNISH}
RUSSIAN = dict(ii="IY", i="IH", yy="IH", y="IH", uu="UW", u="UH", ee="EH", e="EH", oo="AO", aa="AA", a="AH", ae="AH", ay="AH", ur="AH",
               p="P", pp="P", b="B", bb="B", t="T", tt="T", d="D", dd="D", k="K", kk="K", g="G", gg="G", c="T S", ch="CH", f="F", ff="F", v="V",
               vv="V", s="S", ss="S", z="Z", zz="Z", sh="SH", sch="SH", zh="ZH", h="HH", hh="HH", m="M", mm="M", n="N", nn="N", l="L", ll="L",
               r="R", rr="R", j="Y")
RUSSIAN_AT = Path("/usr/share/festival/voices/russian/msu_ru_nsh_clunits")


def index(phones: list[str]) -> np.ndarray:
    return np.array([PHONES.index(p) + 1 for p in phones], np.int16)


def diphones(voice: str, table: dict[str, str], words: list[str], dictionary: dict[str, list[str]], count: int, rng: random.Random) -> list[tuple[np.ndarray, np.ndarray]]:
    able = [w for w in words if all(p in table for p in dictionary[w])]
    out = []
    with tempfile.TemporaryDirectory() as name:
        labels, lines = [], [f"(voice_{voice})"]
        for n in range(count):
            phones = [p for w in rng.sample(able, rng.randint(1, 4)) for p in dictionary[w]]
            labels.append(index(phones))
            lines.append(f"(Parameter.set 'Duration_Stretch {rng.uniform(0.7, 1.2):.2f})")
            lines.append(f'(utt.save.wave (utt.synth (Utterance Phones (# {" ".join(table[p] for p in phones)} #))) "{name}/{n}.wav" \'riff)')
        (Path(name) / "say.scm").write_text("\n".join(lines))
        subprocess.run(["festival", "-b", f"{name}/say.scm"], check=False, capture_output=True)
        for n, label in enumerate(labels):
            path = Path(name) / f"{n}.wav"
            if path.exists():
                x = load_wav(path)
                if 2400 < len(x) < 4 * RATE:
                    out.append((x, label))
    print(voice, len(able), "words,", len(out), "sentences", flush=True)
    return out


def russian(seconds: float, rng: random.Random) -> list[tuple[np.ndarray, np.ndarray]]:
    out: list[tuple[np.ndarray, np.ndarray]] = []
    total = 0.0
    for path in rng.sample(sorted((RUSSIAN_AT / "lab").glob("*.lab")), 300):
        x = load_untrimmed(RUSSIAN_AT / "wav" / (path.stem + ".wav"))
        marks = [(float(a), p) for a, _, p in (line.split() for line in path.read_text().splitlines()[1:])]
        begin, last, phones = 0.0, 0.0, []
        for end, phone in marks:
            cut = (phone == "pau" and phones and last - begin > 0.8) or last - begin > 3.0
            if cut:
                out.append((x[int(begin * RATE) : int(last * RATE)], index(phones)))
                total += last - begin
                begin, phones = last, []
            if phone == "pau" and not phones:
                begin = end - 0.05
            phones += RUSSIAN.get(phone, "").split()
            last = end
        if total > seconds:
            break
    return out


def load_untrimmed(path: Path) -> np.ndarray:
    import wave

    with wave.open(str(path)) as f:
        assert f.getframerate() == RATE
        return np.frombuffer(f.readframes(f.getnframes()), np.int16).astype(np.float32) / 32768


def main() -> None:
    dictionary = read_dictionary(Path(sys.argv[1]))
    words, rng = word_pool(Path(sys.argv[2]), dictionary), random.Random(77)
    pairs = russian(400, rng)
    print("russian", len(pairs), sum(len(x) for x, _ in pairs) / RATE, "s")
    for voice, table in VOICES.items():
        pairs += diphones(voice, table, words, dictionary, 55, rng)
    clips = [(x / np.abs(x).max() * 20000).astype(np.int16) for x, _ in pairs]
    np.savez_compressed(sys.argv[3], flat=np.concatenate(clips), lengths=np.array([len(c) for c in clips], np.int64),
                        phones=np.concatenate([p for _, p in pairs]), phone_counts=np.array([len(p) for _, p in pairs], np.int64))
    print(sum(map(len, clips)) / RATE, "s")


if __name__ == "__main__":
    main()
