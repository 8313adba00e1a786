import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { followDeviceTheme, showTheme } from './shell/theme.ts';
import './styles/tokens.css';
import './styles/base.css';
import './styles/shell.css';
import './styles/components.css';
import './styles/check.css';
import './styles/answer.css';

showTheme();
followDeviceTheme();
const root = document.getElementById('root');
if (root === null) throw new Error('Expected the element "root" in index.html');
createRoot(root).render(<App />);
