/** Sends on every block that is not silence, with the sample it starts on. Runs beside the page, not in it. */
class Recorder extends AudioWorkletProcessor {
  process([input]) {
    const samples = input[0];
    if (samples?.some((sample) => sample !== 0))
      this.port.postMessage({ frame: currentFrame, samples: samples.slice() });
    return true;
  }
}
registerProcessor('recorder', Recorder);
