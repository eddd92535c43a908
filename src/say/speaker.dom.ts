/** Tones and speech of the bench. Everything said is also on the screen: nothing depends on it. */
export interface Speaker {
  /** Says the sentences one after the other, dropping whatever was being said. */
  say(sentences: readonly string[]): void;
  /** Falls silent at once: any key or pedal does this. */
  hush(): void;
  tone(kind: Tone): void;
  /** Is anything being said now? */
  readonly speaking: boolean;
  /** Called when the app begins and ceases to sound: an ear beside it must not hear it. */
  onSound: (sounds: boolean) => void;
}

export type Tone = 'accepted' | 'refused' | 'hold' | 'full';

/** Frequency (Hz) and length (s) of each part. Refused falls and is low, accepted rises, a hold strikes twice. */
const tones: Readonly<Record<Tone, readonly (readonly [hz: number, seconds: number])[]>> = {
  accepted: [
    [660, 0.07],
    [880, 0.09],
  ],
  refused: [
    [220, 0.16],
    [165, 0.26],
  ],
  hold: [
    [440, 0.14],
    [0, 0.06],
    [440, 0.2],
  ],
  full: [[990, 0.12]],
};

/** How long the room goes on sounding after the app falls silent, ms. Our own choice. */
const TAIL_MS = 250;

/** Longest time a sentence may take before its lost `end` event is made up for, in ms. */
const patience = (sentence: string) => 1500 + sentence.length * 120;

/**
 * Speech through the browser's own synthesis on the device, tones through Web Audio. Where there is no voice, or it
 * falls silent, the tones and the screen go on alone.
 */
export function browserSpeaker(): Speaker {
  const synthesis: SpeechSynthesis | undefined = globalThis.speechSynthesis;
  let audio: AudioContext | null = null;
  let queue: string[] = [];
  // The utterance is kept here: some engines lose its events once it is collected.
  let current: SpeechSynthesisUtterance | null = null;
  let watchdog = 0;
  let toneEnds = 0;
  let sounding = false;
  let settle = 0;

  /** Tells the ear when the app sounds; it hears again a little after the last sound, which has a tail in the room. */
  function sound(): void {
    window.clearTimeout(settle);
    const now = performance.now();
    const sounds = current !== null || now < toneEnds;
    if (sounds && current === null) settle = window.setTimeout(sound, toneEnds - now);
    else if (!sounds && sounding) settle = window.setTimeout(silent, TAIL_MS);
    if (!sounds || sounding) return;
    sounding = true;
    speaker.onSound(true);
  }

  function silent(): void {
    if (current !== null || performance.now() < toneEnds) return;
    sounding = false;
    speaker.onSound(false);
  }

  const localVoice = () => {
    const voices = synthesis?.getVoices() ?? [];
    const local = voices.filter((voice) => voice.localService);
    return local.find((voice) => voice.lang.startsWith(document.documentElement.lang)) ?? local[0] ?? null;
  };

  function next(): void {
    window.clearTimeout(watchdog);
    current = null;
    sound();
    const sentence = queue.shift();
    const voice = localVoice();
    // Only a voice on the device is used: no sentence of a job goes to a server.
    if (sentence === undefined || !synthesis || !voice) return;
    const utterance = new SpeechSynthesisUtterance(sentence);
    utterance.voice = voice;
    utterance.lang = voice.lang;
    const done = () => {
      if (current === utterance) next();
    };
    utterance.onend = done;
    utterance.onerror = done;
    current = utterance;
    watchdog = window.setTimeout(done, patience(sentence));
    synthesis.speak(utterance);
    sound();
  }

  const speaker: Speaker = {
    onSound: () => undefined,
    say(sentences) {
      this.hush();
      queue = [...sentences];
      next();
    },
    hush() {
      queue = [];
      window.clearTimeout(watchdog);
      if (current) synthesis?.cancel();
      current = null;
      sound();
    },
    tone(kind) {
      try {
        audio ??= new AudioContext();
        if (audio.state === 'suspended') void audio.resume().catch(() => undefined);
        let at = audio.currentTime;
        for (const [hz, seconds] of tones[kind]) {
          if (hz > 0) strike(audio, hz, at, seconds);
          at += seconds;
        }
        toneEnds = performance.now() + (at - audio.currentTime) * 1000;
        sound();
      } catch {
        // A device without sound output still has the screen.
      }
    },
    get speaking() {
      return current !== null;
    },
  };
  return speaker;
}

function strike(audio: AudioContext, hz: number, at: number, seconds: number): void {
  const oscillator = audio.createOscillator();
  const gain = audio.createGain();
  oscillator.frequency.value = hz;
  oscillator.type = 'triangle';
  gain.gain.setValueAtTime(0, at);
  gain.gain.linearRampToValueAtTime(0.5, at + 0.012);
  gain.gain.linearRampToValueAtTime(0, at + seconds);
  oscillator.connect(gain).connect(audio.destination);
  oscillator.start(at);
  oscillator.stop(at + seconds);
}
