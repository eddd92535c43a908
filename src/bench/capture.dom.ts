/** Longest voice note, in ms: a sentence or two. */
const VOICE_MS = 15_000;
/** Time that a camera needs to set its exposure, in ms. Our own choice. */
const SETTLE_MS = 700;

async function media(constraints: MediaStreamConstraints, missing: string): Promise<MediaStream> {
  try {
    return await navigator.mediaDevices.getUserMedia(constraints);
  } catch (error) {
    throw new Error(missing, { cause: error });
  }
}

const stop = (stream: MediaStream) => {
  for (const track of stream.getTracks()) track.stop();
};

/** One picture from the camera that faces away from the screen, as JPEG. @throws Error with a sentence when there is no camera */
export async function takePhoto(): Promise<Blob> {
  const stream = await media(
    { video: { facingMode: 'environment', width: { ideal: 1920 } } },
    'There is no camera to use: allow it in the browser, or take the picture elsewhere and note its name.',
  );
  try {
    const video = document.createElement('video');
    video.muted = true;
    video.srcObject = stream;
    await video.play();
    await new Promise((done) => setTimeout(done, SETTLE_MS));
    const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
    canvas.getContext('2d')?.drawImage(video, 0, 0);
    return await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.85 });
  } finally {
    stop(stream);
  }
}

/** Fifteen seconds of speech. @throws Error with a sentence when there is no microphone */
export async function recordVoice(): Promise<Blob> {
  const stream = await media(
    { audio: true },
    'There is no microphone to use: allow it in the browser, or type a note.',
  );
  try {
    const recorder = new MediaRecorder(stream);
    const parts: Blob[] = [];
    recorder.ondataavailable = ({ data }) => parts.push(data);
    const stopped = new Promise((done) => {
      recorder.onstop = done;
    });
    recorder.start();
    setTimeout(() => recorder.state === 'recording' && recorder.stop(), VOICE_MS);
    await stopped;
    return new Blob(parts, { type: recorder.mimeType });
  } finally {
    stop(stream);
  }
}
