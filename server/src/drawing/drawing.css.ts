/**
 * Colours and strokes of the drawings, in one place.
 *
 * Hues are of the palette that Okabe and Ito published for all kinds of colour vision (M. Okabe, K. Ito, "Color
 * Universal Design", 2008; reproduced in B. Wong, "Points of view: Color blindness", Nature Methods 8, 441, 2011):
 * vermillion, blue, bluish green, orange, sky blue, reddish purple. Grounds and inks are the editor theme's.
 */
export const drawingCss = `
.springwright-drawing {
  --sw-ground: var(--vscode-editor-background, #ffffff);
  --sw-ink: var(--vscode-editor-foreground, #24292f);
  --sw-quiet: var(--vscode-descriptionForeground, #57606a);
  --sw-line: #8c959f;
  --sw-wire: #3d4a56;
  --sw-neutral-core: #e8ecf0;
  --sw-attachment: #d5dbe1;
  --sw-force: #d55e00;
  --sw-moment: #0072b2;
  --sw-passive: #009e73;
  --sw-nominal: #cc79a7;
  font-family: var(--vscode-font-family, "Segoe UI", "Helvetica Neue", "DejaVu Sans", Arial, sans-serif);
}
.vscode-dark .springwright-drawing, .vscode-high-contrast:not(.vscode-high-contrast-light) .springwright-drawing,
.springwright-drawing.dark {
  --sw-ground: var(--vscode-editor-background, #1f2328);
  --sw-ink: var(--vscode-editor-foreground, #e6e9ec);
  --sw-quiet: var(--vscode-descriptionForeground, #a3adb8);
  --sw-line: #7d8894;
  --sw-wire: #cfd6dd;
  --sw-neutral-core: #333b44;
  --sw-attachment: #4b5661;
  --sw-force: #e69f00;
  --sw-moment: #56b4e9;
  --sw-passive: #2bbf92;
  --sw-nominal: #cc79a7;
}
.vscode-high-contrast .springwright-drawing { --sw-line: currentColor; --sw-quiet: var(--sw-ink); }
.springwright-drawing text { fill: var(--sw-ink); font-size: 12px; }
.springwright-drawing .ground { fill: var(--sw-ground); }
.springwright-drawing .heading { font-size: 15px; font-weight: 600; }
.springwright-drawing .quiet { fill: var(--sw-quiet); }
.springwright-drawing .amount { font-weight: 600; }
.springwright-drawing .halo { fill: none; stroke: var(--sw-ground); stroke-width: 3.5; stroke-linejoin: round; }
.springwright-drawing .rule { stroke: var(--sw-line); stroke-width: 1; fill: none; }
.springwright-drawing .axis-head { fill: var(--sw-line); }
.springwright-drawing .divider { stroke: var(--sw-line); stroke-width: 0.6; opacity: 0.5; }
.springwright-drawing .casing { stroke: var(--sw-ground); }
.springwright-drawing .engaged .body { stroke: var(--sw-wire); }
.springwright-drawing .neutral .body { stroke: var(--sw-line); }
.springwright-drawing .neutral .core { stroke: var(--sw-neutral-core); }
.springwright-drawing .auxiliary .body { stroke: var(--sw-wire); }
.springwright-drawing .auxiliary .core { stroke: var(--sw-ground); stroke-dasharray: 7 4; }
.springwright-drawing .passive { stroke: var(--sw-passive); stroke-width: 1.8; stroke-dasharray: 8 5; }
.springwright-drawing .compared { stroke: var(--sw-force); stroke-width: 2.2; stroke-dasharray: 11 3 2 3; }
.springwright-drawing .compared.line-2 { stroke: var(--sw-moment); stroke-dasharray: 20 4; }
.springwright-drawing .compared.line-3 { stroke: var(--sw-ink); stroke-dasharray: 3 3; }
.springwright-drawing .compared.line-4 { stroke: var(--sw-passive); stroke-dasharray: 10 3 2 3 2 3; }
.springwright-drawing .number circle { fill: var(--sw-ground); stroke: var(--sw-ink); stroke-width: 1.2; }
.springwright-drawing .number text { font-weight: 600; }
.springwright-drawing .nominal { stroke: var(--sw-nominal); stroke-width: 2; stroke-dasharray: 0.5 4.5; stroke-linecap: round; }
.springwright-drawing .attachment .wall { fill: var(--sw-attachment); stroke: var(--sw-line); stroke-width: 1; }
.springwright-drawing .attachment .pad { fill: var(--sw-attachment); opacity: 0.45; }
.springwright-drawing .attachment .rim { stroke: var(--sw-line); stroke-width: 3; stroke-linecap: round; }
.springwright-drawing .force .shaft { stroke: var(--sw-force); stroke-width: 3; }
.springwright-drawing .force .head { fill: var(--sw-force); }
.springwright-drawing .moment .shaft { stroke: var(--sw-moment); stroke-width: 2.4; }
.springwright-drawing .moment .head { fill: var(--sw-moment); }
.springwright-drawing .peak { fill: none; stroke: var(--sw-ink); stroke-width: 1.6; }
.springwright-drawing .step { stroke: transparent; pointer-events: stroke; cursor: pointer; }
.springwright-drawing .step:hover, .springwright-drawing .step.chosen { stroke: var(--sw-moment); opacity: 0.45; }
.springwright-drawing .handle .guide { stroke: var(--sw-ink); stroke-width: 1; }
.springwright-drawing .handle .incoming { stroke-dasharray: 3 3; }
.springwright-drawing .handle .tips { fill: var(--sw-ink); stroke: var(--sw-ground); stroke-width: 1; }
.springwright-drawing .handle .knob { fill: var(--sw-ground); stroke: var(--sw-ink); stroke-width: 2.2; }
.springwright-drawing .load path { stroke: var(--sw-ink); stroke-width: 1.3; stroke-linejoin: round; }
.springwright-drawing .load.ligature path { stroke-width: 2; stroke-dasharray: 2 2.5; }
.springwright-drawing .load.slack path { stroke: var(--sw-line); stroke-dasharray: 4 3; }
.springwright-drawing .tooth-group .stem { stroke: var(--sw-line); stroke-width: 1; stroke-dasharray: 2 3; fill: none; }
.springwright-drawing .tooth-group .pull-line { stroke: var(--sw-force); stroke-width: 1.4; stroke-dasharray: 6 3; fill: none; }
.springwright-drawing .tooth-group .resistance { fill: var(--sw-ground); stroke: var(--sw-ink); stroke-width: 1.4; }
.springwright-drawing .tooth-group .pivot { fill: none; stroke: var(--sw-moment); stroke-width: 1.6; }
.springwright-drawing .tooth-group .pivot.dot { fill: var(--sw-moment); }
.springwright-chart .visit { fill: var(--sw-ground); stroke: var(--sw-ink); stroke-width: 1.4; }
.springwright-chart .visit.active { fill: var(--sw-ink); }
.springwright-chart .grid { stroke: var(--sw-line); stroke-width: 0.5; opacity: 0.45; }
.springwright-chart .curve { stroke-width: 2; }
.springwright-chart .line-0 { color: var(--sw-moment); }
.springwright-chart .line-1 { color: var(--sw-force); }
.springwright-chart .line-2 { color: var(--sw-passive); }
.springwright-chart .line-3 { color: var(--sw-nominal); }
.springwright-chart .line-4 { color: var(--sw-ink); }
.springwright-chart .curve { stroke: currentColor; }
.springwright-chart .limit rect { fill: currentColor; opacity: 0.16; }
.springwright-chart .limit .edge { stroke: currentColor; stroke-width: 1.2; }
.springwright-chart .limit.missed .edge { stroke-width: 2.4; stroke-dasharray: 3 2; }
.springwright-chart .friction { fill: var(--sw-line); opacity: 0.3; }
.springwright-chart .cursor { stroke: var(--sw-ink); stroke-width: 1; stroke-dasharray: 2 2; }
.springwright-drawing .leader { stroke: var(--sw-line); stroke-width: 0.8; }
`.trimStart();
