// Run from the top folder: `make lint` does.

import { FLOOR } from "./floor.js";

// What the styles use all the same, though not every browser of the floor has it.
const USED = [
  // Wide tables on narrow screens: Chrome has them since 105 and Safari since 16; for others @supports measures the
  // screen.
  "css-container-queries",
  // Only where a browser hides what its search may find; others have no such thing to show again on paper.
  "css-content-visibility",
  // Room for what the script will show, so that nothing moves: Chrome knows since 120, Safari since 17.
  "css-media-scripting",
  // For fingers, which Safari on a Mac has none of.
  "css-touch-action",
  // Margins of a page: a browser without @page prints with its own.
  "css-paged-media",
  // 100svh stands behind 100%.
  "viewport-unit-variants",
];

export default {
  plugins: ["stylelint-no-unsupported-browser-features"],
  rules: {
    "color-no-invalid-hex": true,
    "declaration-block-no-duplicate-properties": [true, { ignore: ["consecutive-duplicates"] }],
    "function-no-unknown": true,
    // The rule of the floor below does not know them: Safari has the first since 16.2, the other since 17.5.
    "function-disallowed-list": ["color-mix", "light-dark"],
    "property-no-unknown": true,
    "unit-no-unknown": true,
    "plugin/no-unsupported-browser-features": [true, { browsers: FLOOR, ignore: USED, ignorePartialSupport: true }],
  },
  overrides: [
    // Packs are printed by the browser of the machine that makes them.
    { files: ["**/pack.css"], rules: { "plugin/no-unsupported-browser-features": null } },
  ],
};
