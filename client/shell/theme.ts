export const THEMES = ['system', 'light', 'dark', 'contrast'] as const;
export type Theme = (typeof THEMES)[number];

const KEY = 'bareplate.theme';

export function chosenTheme(): Theme {
  const kept = localStorage.getItem(KEY);
  return THEMES.find((theme) => theme === kept) ?? 'system';
}

export function chooseTheme(theme: Theme): void {
  localStorage.setItem(KEY, theme);
  showTheme();
}

/** Puts the chosen theme on the document; "system" follows what the device asks for, also when it changes. */
export function showTheme(): void {
  const chosen = chosenTheme();
  document.documentElement.dataset['theme'] = chosen === 'system' ? themeOfDevice() : chosen;
}

function themeOfDevice(): Exclude<Theme, 'system'> {
  if (matchMedia('(prefers-contrast: more)').matches) return 'contrast';
  return matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
}

export function followDeviceTheme(): void {
  for (const question of ['(prefers-contrast: more)', '(prefers-color-scheme: dark)']) {
    matchMedia(question).addEventListener('change', showTheme);
  }
}
