/** Runs beside the page in the browser's audio thread: hands the samples of the microphone over, some at a time. */

/** @type {any} Names of the audio thread, which the types of a page do not know. */
const { AudioWorkletProcessor, registerProcessor } = globalThis;

/** Samples handed over together: about 20 milliseconds. */
const together = 1024;

class SampleSender extends AudioWorkletProcessor {
  constructor() {
    super();
    this.kept = new Float32Array(together);
    this.count = 0;
  }

  /**
   * @param {Float32Array[][]} inputs the first channel of the first is the microphone
   * @returns {boolean} true, to be called again
   */
  process([input]) {
    for (const sample of input?.[0] ?? []) {
      this.kept[this.count] = sample;
      this.count += 1;
      if (this.count === together) {
        this.port.postMessage(this.kept.slice());
        this.count = 0;
      }
    }
    return true;
  }
}

registerProcessor('sample-sender', SampleSender);
