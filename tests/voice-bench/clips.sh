#!/bin/sh
# Makes tests/whole/clips: the spoken commands, the app's own sentences and the radio talk of the voice tests. Run it in the
# repository's root, once, where flite, pico2wave, espeak-ng and ffmpeg are installed (Debian); the tests need none of them.
# Each clip is cut to its sound, so that its length says where the word ends. Format: WAV, 16 kHz, mono, IMA ADPCM.
set -eu
out=tests/whole/clips
mkdir -p "$out"
work=$(mktemp -d)
trap 'rm -r "$work"' EXIT

# clip NAME VOICE TEXT
clip() {
  case $2 in
    pico) pico2wave -l en-GB -w "$work/a.wav" "$3" ;;
    german) espeak-ng -v de -s 150 -w "$work/a.wav" "$3" ;;
    espeak) espeak-ng -v en-gb -s 145 -w "$work/a.wav" "$3" ;;
    *) flite -voice "$2" -t "$3" -o "$work/a.wav" ;;
  esac
  cut=silenceremove=start_periods=1:start_threshold=-45dB
  ffmpeg -y -loglevel error -i "$work/a.wav" -af "aresample=16000,$cut,areverse,$cut,areverse" -ac 1 \
    -map_metadata -1 -fflags +bitexact -c:a adpcm_ima_wav "$out/$1.wav"
}

# command VOICE TEXT: named after its words.
command() { clip "$(echo "$2" | tr ' ' '-')" "$1" "$2"; }

# The engine behind "pico" was kept out of the model's training, the one behind "rms" was not.
for text in 'next step' 'number one' 'take note' 'end of note'; do command pico "$text"; done
# A person's own word for "next step", in another language.
clip own-word german 'weiter bitte'
for text in 'circlip ring' 'clip link' 'plain socket' 'every line unbroken' 'clip sits where fitted' 'bead in one piece' \
  'three two' 'figure correct' 'rock steady on stand' 'nine zero' 'zero decimal five' 'three zero' 'guard sits solid' \
  'silent smooth running' 'paint lines all across' 'brake bites every time' 'released to the rider'; do
  command rms "$text"
done

# What the app says by itself in the job of the test: at a step, a hold and a fork, and its refusals.
clip app-step slt 'Danger. A chain driven by the engine takes fingers off. Never run the engine for this job. Engine off. Put the ignition key in your pocket.'
clip app-hold slt 'Hold point. Look at each paint line: axle nut, front sprocket, every rear bolt. All whole?'
clip app-refusal slt 'This is a hold point: check it, then say "every line unbroken" or hold the pedal down.'
clip app-wrong-phrase slt 'That phrase does not open this hold: say "every line unbroken".'
clip app-fork slt 'Is it clip link or riveted link?'
clip app-fork-refusal slt 'Choose between clip link and riveted link.'
clip app-read-back slt 'three two newton metres. Is that right?'

# Radio talk, with the words of commands in its sentences.
clip talk-1 slt 'It is nine o clock and the roads are clear. In a moment the weather, and then the next part of our story about the old railway.'
clip talk-2 awb 'I told him to take one step back and look again, because it was not the right number, it was thirty two or thirty three, and he did not believe me.'
clip talk-3 pico 'And that was number one in the charts this week. Stay with us, after the break we stop at the market and take a note of what people say.'
clip talk-4 espeak 'Police report trouble here on the north road, one lane is closed. Please pass on the left. The next train leaves at ten fifteen.'
clip talk-5 rms 'So the first step is flour and water, the next step is to let it rest for an hour. Is that figure correct? It is, and that is all.'
clip talk-6 slt 'The bolt was tight enough, he said, every line was there, the chain clip sits where it always sits, and still the wheel came loose.'
du -sh "$out"
