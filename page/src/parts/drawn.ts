// The engine's drawings on the page: how wide they are, their style sheet, once for the page, and its light.
import { ask } from "../engine/client";

/** Up to here a drawing as wide as a letter would have letters too small to read. */
const PHONE_PX = 700;

/** The paper that drawings are made for. */
export const paper = (): "paper" | "phone" => (innerWidth < PHONE_PX ? "phone" : "paper");

let sheet: CSSStyleSheet | undefined;
let begun: Promise<void> | undefined;

/** Puts the style sheet of all drawings into the page. */
export function dressed(): Promise<void> {
  begun ??= (async () => {
    const answer = await ask("sheet_style");
    if (!("sheet_style" in answer)) return;
    sheet = new CSSStyleSheet();
    sheet.replaceSync(await withFont(answer.sheet_style));
    document.adoptedStyleSheets.push(sheet);
    light();
  })();
  return begun;
}

/** Takes the font out of a style sheet and loads it from its bytes: the page lets no style sheet load anything. */
async function withFont(css: string): Promise<string> {
  const rule = /@font-face\{font-family:"([^"]+)";src:url\("data:font\/woff2;base64,([^"]+)"\)[^}]*\}/.exec(css);
  if (!rule) return css;
  const [all, family = "", data = ""] = rule;
  const bytes = Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0));
  document.fonts.add(await new FontFace(family, bytes).load());
  return css.replace(all, "");
}

/** The drawings follow the light that was chosen for the page, not that of the device alone. */
export function light(): void {
  const chosen = document.documentElement.dataset["light"];
  const dark = chosen === undefined ? "screen and (prefers-color-scheme: dark)" : chosen === "dark" ? "screen" : "not all";
  for (const rule of sheet?.cssRules ?? []) {
    if (rule instanceof CSSMediaRule && !rule.media.mediaText.includes("print")) rule.media.mediaText = dark;
  }
}
