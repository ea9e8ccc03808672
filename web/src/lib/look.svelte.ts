/**
 * Light, dark, or as the device says; kept on this device. static/look.js applies it before the first paint.
 *
 *   look.choose('dark'); look.choice // 'device' | 'light' | 'dark'
 */
export type LookChoice = 'device' | 'light' | 'dark';

const STORED = 'tidelarder.look';

function stored(): LookChoice {
  try {
    const value = localStorage.getItem(STORED);
    return value === 'light' || value === 'dark' ? value : 'device';
  } catch {
    return 'device';
  }
}

class Look {
  choice = $state<LookChoice>(stored());

  choose(choice: LookChoice): void {
    this.choice = choice;
    const root = document.documentElement;
    if (choice === 'device') delete root.dataset.look;
    else root.dataset.look = choice;
    try {
      if (choice === 'device') localStorage.removeItem(STORED);
      else localStorage.setItem(STORED, choice);
    } catch {
      // Storage refused: the choice holds until the page closes.
    }
  }
}

export const look = new Look();
