// Run from the top folder: `make lint` does.

import js from "@eslint/js";
import compat from "eslint-plugin-compat";
import globals from "globals";
import { FLOOR } from "./floor.js";

// Methods of ES2023 and later: Chrome 110 and Safari 16 have the first three, the rest came later.
const YOUNGER = ["toSorted", "toReversed", "toSpliced", "groupBy", "withResolvers", "fromAsync", "isWellFormed"];

export default [
  js.configs.recommended,
  compat.configs["flat/recommended"],
  {
    languageOptions: { ecmaVersion: 2022 },
    linterOptions: { reportUnusedDisableDirectives: "error" },
    settings: {
      browsers: FLOOR,
      // Asked for before they are used, since the floor has them in part only.
      polyfills: ["navigator.userActivation", "navigator.vibrate", "navigator.wakeLock", "requestIdleCallback"],
    },
    rules: {
      curly: ["error", "multi-line"],
      eqeqeq: "error",
      "no-shadow": ["error", { builtinGlobals: false }],
      // The rule above does not know it: Safari has it since 16.
      "no-restricted-properties": ["error", { object: "AbortSignal", property: "timeout" }],
      // Nor these: it looks at what the browser adds to the language, not at the language.
      "no-restricted-syntax": [
        "error",
        {
          selector: `MemberExpression[property.name=/^(${YOUNGER.join("|")})$/]`,
          message: "Not every browser of the floor has it.",
        },
        {
          selector: "TemplateLiteral TemplateLiteral",
          message: "What leaves out layout for the browsers takes the inner text for code.",
        },
        { selector: "StaticBlock", message: "Safari has static blocks since 16.4." },
        { selector: "Literal[regex.pattern=/\\(\\?<[=!]/]", message: "Safari has lookbehind since 16.4." },
      ],
      "no-var": "error",
      "prefer-const": "error",
      // What is thrown on purpose is shown to an athlete, and nobody reads its cause.
      "preserve-caught-error": "off",
    },
  },
  { files: ["theme_overrides/js/**"], languageOptions: { globals: globals.browser } },
  { files: ["theme_overrides/worker/**"], languageOptions: { globals: globals.serviceworker } },
];
