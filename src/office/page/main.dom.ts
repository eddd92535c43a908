import '../../bench/page.css';
import './office-page.dom.ts';

document.documentElement.dataset.theme = matchMedia('(prefers-color-scheme: dark)').matches
  ? 'dark'
  : 'light';
document.body.prepend(document.createElement('hf-office'));
