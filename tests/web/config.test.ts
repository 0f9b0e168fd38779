import { describe, expect, test } from 'vitest';
import { ConfigError, readConfig } from '../../src/config.ts';

describe('the configuration', () => {
  test('has safe values when nothing is set: loopback only', () => {
    expect(readConfig({})).toEqual({
      host: '127.0.0.1',
      port: 3000,
      dataDir: './data',
      logLevel: 'info',
      publicUrl: null,
    });
  });

  test('takes every variable', () => {
    const config = readConfig({
      HOST: '0.0.0.0',
      PORT: '0',
      DATA_DIR: '/var/lib/band',
      LOG_LEVEL: 'debug',
      PUBLIC_URL: 'https://band.example.org/',
    });
    expect(config).toEqual({
      host: '0.0.0.0',
      port: 0,
      dataDir: '/var/lib/band',
      logLevel: 'debug',
      publicUrl: 'https://band.example.org',
    });
  });

  test('counts an empty variable as unset', () => {
    expect(readConfig({ PORT: '', HOST: '  ' })).toEqual(readConfig({}));
  });

  test.each([
    ['PORT', '65536', 'PORT must be a whole number from 0 to 65535 (it is "65536").'],
    ['PORT', '3000.5', 'PORT must be a whole number from 0 to 65535 (it is "3000.5").'],
    [
      'HOST',
      'a host',
      'HOST must be a host name or an address, such as 127.0.0.1 or 0.0.0.0 (it is "a host").',
    ],
    [
      'LOG_LEVEL',
      'loud',
      'LOG_LEVEL must be one of fatal, error, warn, info, debug, trace, silent (it is "loud").',
    ],
    [
      'PUBLIC_URL',
      'https://band.example.org/runs',
      'PUBLIC_URL must be http:// or https:// and a host, with nothing after it, such as https://band.example.org (it is "https://band.example.org/runs").',
    ],
    [
      'PUBLIC_URL',
      'javascript:alert(1)',
      'PUBLIC_URL must be http:// or https:// and a host, with nothing after it, such as https://band.example.org (it is "javascript:alert(1)").',
    ],
  ])('refuses %s=%s with one sentence', (name, value, sentence) => {
    expect(() => readConfig({ [name]: value })).toThrow(sentence);
  });

  test('says all that is wrong at once', () => {
    const read = () => readConfig({ PORT: 'x', LOG_LEVEL: 'y' });
    expect(read).toThrow(ConfigError);
    try {
      read();
    } catch (error) {
      expect((error as ConfigError).sentences).toHaveLength(2);
    }
  });
});
