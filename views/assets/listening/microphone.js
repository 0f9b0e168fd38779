/** The microphone: opened for one take and closed after it. The sound stays in the browser; nothing is kept or sent. */

/** Something about the microphone, in a sentence for the person who wanted to use it. */
export class MicrophoneError extends Error {}

/**
 * @typedef {object} Microphone
 * @property {number} rate samples a second
 * @property {boolean} isAltered whether the browser evens out the sound though it was asked not to
 * @property {() => void} close gives the microphone back
 */

/**
 * Opens the microphone. The browser's gain control, noise suppression and echo cancelling are asked to be off, because they
 * flatten the very wavering that is looked for.
 * @param {(samples: Float32Array) => void} onSamples
 * @param {(error: MicrophoneError) => void} onLost called when the microphone goes away while it is open
 * @returns {Promise<Microphone>}
 * @throws {MicrophoneError} when there is none, or it may not be used
 */
export async function openMicrophone(onSamples, onLost) {
  const stream = await ask();
  const audio = new AudioContext();
  const close = () => {
    for (const track of stream.getTracks()) track.stop();
    if (audio.state !== 'closed') void audio.close();
  };
  try {
    await audio.audioWorklet.addModule(new URL('./samples.js', import.meta.url));
    await audio.resume();
  } catch {
    close();
    throw new MicrophoneError(
      'This browser cannot hand the sound of the microphone to a page. Answer by ear.',
    );
  }
  const sender = new AudioWorkletNode(audio, 'sample-sender', { numberOfOutputs: 0, channelCount: 1 });
  sender.port.addEventListener('message', ({ data }) => onSamples(data));
  sender.port.start();
  audio.createMediaStreamSource(stream).connect(sender);
  const [track] = stream.getAudioTracks();
  track?.addEventListener('ended', () => {
    close();
    onLost(new MicrophoneError('The microphone went away. Plug it in again, or answer by ear.'));
  });
  const { autoGainControl, noiseSuppression, echoCancellation } = track?.getSettings() ?? {};
  return {
    rate: audio.sampleRate,
    isAltered: [autoGainControl, noiseSuppression, echoCancellation].some(Boolean),
    close,
  };
}

async function ask() {
  try {
    return await navigator.mediaDevices.getUserMedia({
      audio: { autoGainControl: false, noiseSuppression: false, echoCancellation: false },
    });
  } catch (error) {
    throw new MicrophoneError(sentenceFor(error instanceof DOMException ? error.name : ''));
  }
}

/** @param {string} name of the browser's error (W3C Media Capture and Streams, getUserMedia) */
function sentenceFor(name) {
  switch (name) {
    case 'NotAllowedError':
    case 'SecurityError':
      return 'The browser may not use the microphone here. Allow it in the browser’s settings for this page, or answer by ear.';
    case 'NotFoundError':
    case 'OverconstrainedError':
      return 'There is no microphone on this device. Answer by ear.';
    case 'NotReadableError':
    case 'AbortError':
      return 'Something else is using the microphone. Close it and listen again, or answer by ear.';
    default:
      return 'The microphone could not be opened. Answer by ear.';
  }
}
