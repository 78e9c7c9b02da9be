/** A sound server with a sink that plays into nothing, for machines without a sound card. */
import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { findProgram } from './find.mjs';

/**
 * Starts PulseAudio on a socket of its own.
 * @returns {Promise<{ server: string, unplug(): void, plug(): void, stop(): void } | null>} `server` is for
 * PULSE_SERVER; `unplug` takes the sink away as when headphones' adapter is pulled out, `plug` brings it back.
 * Null when there is no PulseAudio.
 */
export async function startPulse() {
  const program = findProgram(['pulseaudio']);
  if (program === null) return null;
  const home = mkdtempSync(join(tmpdir(), 'pulse-'));
  const socket = join(home, 'socket');
  const sink = ['module-null-sink', 'sink_name=nowhere', 'rate=48000'];
  const modules = [`module-native-protocol-unix auth-anonymous=1 socket=${socket}`, sink.join(' ')];
  const server = spawn(
    program,
    [
      '--daemonize=no',
      '--exit-idle-time=-1',
      '--use-pid-file=no',
      '-n',
      ...modules.flatMap((m) => ['-L', m]),
    ],
    { stdio: 'ignore', env: { ...process.env, HOME: home, XDG_RUNTIME_DIR: home, PULSE_RUNTIME_PATH: home } },
  );
  for (let i = 0; i < 100 && !existsSync(socket); i++) await sleep(50);
  const stop = () => {
    process.off('exit', stop);
    server.kill();
    rmSync(home, { recursive: true, force: true });
  };
  process.once('exit', stop);
  if (!existsSync(socket)) {
    stop();
    return null;
  }
  const address = `unix:${socket}`;
  const env = { ...process.env, PULSE_SERVER: address };
  const unplug = () => execFileSync('pactl', ['unload-module', sink[0]], { env });
  const plug = () => execFileSync('pactl', ['load-module', ...sink], { env });
  return { server: address, unplug, plug, stop };
}
