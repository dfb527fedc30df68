// Paper, or the night barn: by choice, since a telephone that is dark all day is hard to read in the sun.

export const themes = ['paper', 'night', 'device'];
const key = 'whorl-theme';

/** The theme that holds. It is read before the first screen, so that no white page flashes at night. */
export function theme(): string {
  let kept: string | null = null;
  try {
    kept = localStorage.getItem(key);
  } catch {
    // No storage of this kind here: paper.
  }
  return themes.includes(kept ?? '') ? kept! : 'paper';
}

export function setTheme(to = theme()): void {
  try {
    localStorage.setItem(key, to);
  } catch {
    // It holds until the page is left.
  }
  document.documentElement.dataset['theme'] = to;
  const paper = getComputedStyle(document.documentElement).getPropertyValue('--paper').trim();
  document.querySelector('meta[name=theme-color]')?.setAttribute('content', paper || '#fff');
}
