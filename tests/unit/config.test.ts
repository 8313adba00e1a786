import { describe, expect, it } from 'vitest';
import { ConfigError, readConfig } from '../../server/config.ts';

describe('the configuration', () => {
  it('needs nothing, and cannot be changed afterwards', () => {
    const config = readConfig({ PATH: '/bin', HOME: '/root' });
    expect(config).toMatchObject({ HOST: '0.0.0.0', PORT: 4610, TRUSTED_PROXIES: 0, ROLE: 'all', DEMO: 'offer' });
    expect(Object.isFrozen(config)).toBe(true);
  });

  it.each([
    ['an unknown key', { BAREPLATE_PROT: '80' }, 'BAREPLATE_PROT'],
    ['a port that is no number', { BAREPLATE_PORT: 'eighty' }, 'BAREPLATE_PORT'],
    ['a port out of range', { BAREPLATE_PORT: '65536' }, 'BAREPLATE_PORT'],
    ['an address with a path', { BAREPLATE_PUBLIC_URL: 'https://shop.example/app' }, 'BAREPLATE_PUBLIC_URL'],
    ['an address of another kind', { BAREPLATE_PUBLIC_URL: 'ftp://shop.example' }, 'BAREPLATE_PUBLIC_URL'],
    ['a certificate without its key', { BAREPLATE_TLS_CERT_FILE: 'cert.pem' }, 'BAREPLATE_TLS_KEY_FILE'],
    ['no workers', { BAREPLATE_WORKERS: '0' }, 'BAREPLATE_WORKERS'],
    ['an empty value', { BAREPLATE_DATA_DIR: '' }, 'BAREPLATE_DATA_DIR'],
    ['a level that is none', { BAREPLATE_LOG_LEVEL: 'loud' }, 'BAREPLATE_LOG_LEVEL'],
  ])('is refused with %s, and says which key', (_name, environment, key) => {
    expect(() => readConfig(environment)).toThrow(ConfigError);
    expect(() => readConfig(environment)).toThrow(key);
  });

  it('names all that is wrong at once', () => {
    const broken = { BAREPLATE_PORT: 'x', BAREPLATE_ROLE: 'y' };
    expect(() => readConfig(broken)).toThrow(/BAREPLATE_PORT[\s\S]*BAREPLATE_ROLE/);
  });
});
