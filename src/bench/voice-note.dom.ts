/** Longest voice note, s: a few sentences. Our own choice. */
export const NOTE_SECONDS = 60;
/** The tone that says that it begins has died away by then, ms. */
const AFTER_TONE_MS = 450;

/** A voice note that is being spoken. */
export interface VoiceNote {
  /** When it is over, for whatever reason. */
  readonly done: Promise<Blob>;
  end(): void;
}

/** Records what the microphone hears until it is ended or time is up; `tick` is called every second. */
export function voiceNote(stream: MediaStream, tick: (seconds: number) => void): VoiceNote {
  let seconds = 0;
  let timer = 0;
  const recorder = new MediaRecorder(stream);
  const parts: Blob[] = [];
  recorder.ondataavailable = ({ data }) => parts.push(data);
  const end = () => {
    window.clearInterval(timer);
    window.clearTimeout(begins);
    if (recorder.state === 'recording') recorder.stop();
    else stopped(new Blob(parts, { type: recorder.mimeType }));
  };
  let stopped: (file: Blob) => void = () => undefined;
  const done = new Promise<Blob>((over) => {
    stopped = over;
    recorder.onstop = () => {
      window.clearInterval(timer);
      over(new Blob(parts, { type: recorder.mimeType }));
    };
  });
  const begins = window.setTimeout(() => {
    // The microphone may have gone meanwhile.
    try {
      recorder.start();
    } catch {
      return end();
    }
    timer = window.setInterval(() => {
      seconds += 1;
      tick(seconds);
      if (seconds >= NOTE_SECONDS) end();
    }, 1000);
  }, AFTER_TONE_MS);
  return { done, end };
}
