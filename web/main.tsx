import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import './style/base.css';
import './style/entry.css';
import './style/gates.css';
import './style/job.css';
import './style/notices.css';
import './style/papers.css';
import './style/parts.css';
import './style/revisions.css';

const root = document.getElementById('root');
if (!root) throw new Error('index.html has no #root');
createRoot(root).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
