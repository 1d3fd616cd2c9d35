import js from "@eslint/js";
import globals from "globals";

export default [
  js.configs.recommended,
  {
    rules: {
      "max-len": ["error", 120],
      "max-lines": ["error", 200],
      "no-unused-vars": "error",
      "no-var": "error",
      "prefer-const": "error",
      eqeqeq: "error",
    },
  },
  { files: ["rsdesign/**"], languageOptions: { globals: globals.browser } },
  { files: ["tests/**"], languageOptions: { globals: { ...globals.node, ...globals.browser } } },
];
