import { useEffect, useState } from 'react';

const themes = ['day', 'bay', 'glare'] as const;
type Theme = (typeof themes)[number];

function remembered(): Theme {
  const stored = localStorage.getItem('slipjoint-theme');
  const found = themes.find((t) => t === stored);
  return found ?? (matchMedia('(prefers-color-scheme: dark)').matches ? 'bay' : 'day');
}

/** Day, dark bay, or full glare; and large targets for gloves. Remembered on the device. */
export function ThemeSwitch(): React.ReactNode {
  const [theme, setTheme] = useState<Theme>(remembered);
  const [glove, setGlove] = useState(localStorage.getItem('slipjoint-glove') === 'yes');
  useEffect(() => {
    document.documentElement.dataset.theme = theme;
    localStorage.setItem('slipjoint-theme', theme);
  }, [theme]);
  useEffect(() => {
    document.documentElement.dataset.glove = glove ? 'yes' : 'no';
    localStorage.setItem('slipjoint-glove', glove ? 'yes' : 'no');
  }, [glove]);
  return (
    <span className="theme">
      <label>
        <span className="visually-hidden">Light</span>
        <select value={theme} onChange={(e) => setTheme(themes.find((t) => t === e.target.value) ?? 'day')}>
          <option value="day">Day</option>
          <option value="bay">Bay</option>
          <option value="glare">Glare</option>
        </select>
      </label>
      <label>
        <input type="checkbox" checked={glove} onChange={(e) => setGlove(e.target.checked)} /> Gloves
      </label>
    </span>
  );
}
