/** One sound server for the whole run: without one an AudioContext of Firefox never starts on a machine without a card. */
import { startPulse } from '../../../src/cli/browsers/pulse.mjs';

export default async function setup() {
  const pulse = await startPulse();
  if (pulse === null) throw new Error('No PulseAudio: Firefox would make no sound.');
  process.env.PULSE_SERVER = pulse.server;
  return () => pulse.stop();
}
