import { describe, expect, test } from 'vitest';
import { type Options, readFlags } from '../../server/flags.ts';

function optionsOf(args: string[], environment: Record<string, string> = {}): Options {
  const flags = readFlags(args, environment);
  if (flags.kind !== 'options') throw new Error(`got ${flags.kind}`);
  return flags.options;
}

function problemOf(...args: string[]): string {
  const flags = readFlags(args, {});
  return flags.kind === 'problem' ? flags.message : flags.kind;
}

describe('flags', () => {
  test('left out, mean port 4050 on every address, with ./data', () => {
    expect(optionsOf([])).toMatchObject({ port: 4050, host: '0.0.0.0', dataFolder: 'data', build: true });
  });

  test('go before the environment', () => {
    const environment = {
      FARWALL_PORT: '4060',
      FARWALL_HOST: '0.0.0.0',
      FARWALL_DATA: '/pool',
      FARWALL_TIMEZONE: 'UTC',
    };
    expect(optionsOf([], environment)).toMatchObject({
      port: 4060,
      host: '0.0.0.0',
      dataFolder: '/pool',
      timezone: 'UTC',
    });
    const args = ['--port', '0', '--host', '::1', '--data=there', '--timezone', 'Europe/Lisbon', '--no-build'];
    expect(optionsOf(args, environment)).toMatchObject({
      port: 0,
      host: '::1',
      dataFolder: 'there',
      timezone: 'Europe/Lisbon',
      build: false,
    });
  });

  test('name certificate and key together or neither', () => {
    expect(optionsOf([]).tls).toBeNull();
    expect(optionsOf(['--cert', 'pool.pem'], { FARWALL_KEY: 'pool.key' }).tls).toEqual({
      cert: 'pool.pem',
      key: 'pool.key',
    });
    expect(problemOf('--cert', 'pool.pem')).toBe('--cert needs --key as well; name both files, or neither.');
    expect(problemOf('--key', 'pool.key')).toBe('--key needs --cert as well; name both files, or neither.');
  });

  test('that may be given more than once are all heard', () => {
    expect(optionsOf(['--allow-host', 'pool.test', '--allow-host=hall']).allowedHosts).toEqual(['pool.test', 'hall']);
  });

  test('that are wrong are told in one sentence with the cure', () => {
    expect(problemOf('--prot', '1')).toBe("Unknown option '--prot'; --help lists the flags.");
    expect(problemOf('4050')).toBe("Unexpected argument '4050'; --help lists the flags.");
    expect(problemOf('--port')).toBe("Option '--port <value>' argument missing; --help lists the flags.");
    expect(problemOf('--port', '--host')).toBe("Option '--port' argument is ambiguous; --help lists the flags.");
    for (const port of ['70000', '4o5o', '1.5', ''])
      expect(problemOf(`--port=${port}`)).toMatch(/is not a port; write/);
    expect(problemOf('--timezone', 'Poolside')).toBe(
      '"Poolside" is not a time zone; write an IANA name such as Europe/Lisbon.',
    );
  });
});
