// A page in a notebook: what a widget of JupyterLab is made of.

import { render } from "./page.js";

export default { render };
