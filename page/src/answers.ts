// The three plain answers, picked from the report. Nothing is computed here: words, figures and chances are those of the engine.
import type { Followed } from "./engine/ask";
import type { Figure, Finding, Report, Triple } from "./engine/report";
import { say, type Label } from "./words";

export type Verdict = Finding["verdict"];

export interface Plain {
  asked: string;
  verdict: Verdict;
  sign: string;
  said: string;
  /** Room or run, where there are several. */
  where?: string | undefined;
  /** What the margin is of, by key; none where the question says it. */
  of?: Label | undefined;
  /** What was found, and what it is held against. */
  margin?: Margin | undefined;
  more: string;
  /** Whether `more` tells a chance. */
  sure: boolean;
  /** `id/subject` of the point with the working. */
  finding: string | undefined;
}

export interface Margin {
  /** None where it is said already. */
  found?: Figure | undefined;
  limit: Figure;
  /** What the limit is, by key. */
  against: Label;
}

export const SIGN: Record<Verdict, string> = { holds: "✓", caution: "△", fails: "✕", unknown: "?" };
const said = (verdict: Verdict): string => say(`page.answer.${verdict}`);

const ORDER: Verdict[] = ["fails", "unknown", "caution", "holds"];

/** Worst first. */
export const byVerdict = (a: Finding, b: Finding): number => ORDER.indexOf(a.verdict) - ORDER.indexOf(b.verdict);

/** Points that tell whether it stays dry, by the beginning of their id. */
const DRY = ["duct.condensate", "duct.frost", "duct.sweating", "duct.drain", "housing.leak", "room.mould"];

/** What such a point is about, and what its limit is. */
const WATER: Record<string, [Label, Label]> = {
  "duct.condensate.net": ["page.answer.net", "page.answer.good"],
  "duct.frost": ["page.answer.frost", "page.answer.good"],
  "duct.sweating": ["page.answer.sweating", "page.answer.dew"],
  "duct.drain": ["page.answer.drain", "page.answer.good"],
  "housing.leak": ["page.answer.leak", "page.answer.good"],
  "room.mould": ["page.answer.mould", "page.answer.good"],
};

export const nameOf = (finding: Finding): string => `${finding.id}/${finding.subject}`;

function worst(findings: Finding[], begins: string[]): Finding | undefined {
  const of = findings.filter(({ id }) => begins.some((begin) => id === begin || id.startsWith(`${begin}.`)));
  return of.sort(byVerdict)[0];
}

function minutes(time: Triple): string {
  const of = (seconds: number) => String(Math.round(seconds / 60));
  const [low, likely, high] = [of(time.low), of(time.likely), of(time.high)];
  return low === high ? say("page.minutes", { likely }) : say("page.minutes.range", { likely, low, high });
}

export const chance = (share: number): string => {
  if (share > 0.99) return say("page.chance.over");
  return share < 0.01 ? say("page.chance.under") : say("page.chance", { percent: Math.round(100 * share) });
};

export function plainAnswers(report: Report): [Plain, Plain, Plain] {
  const answers: [Plain, Plain, Plain] = [air(report), mirror(report), dry(report.findings)];
  if (report.rooms.length > 1) for (const answer of answers) answer.where = where(report, answer.finding);
  // Without draws there is no chance to speak of.
  if (report.draws_count === 0) for (const answer of answers) if (answer.sure) answer.more = "";
  return answers;
}

/** The same while a hand moves a housing, with the way outdoors that follows it. */
export function answersInHand(report: Report, { verdict, air, clearing, water }: Followed): Plain[] {
  const [first, second] = plainAnswers(report);
  const held = { more: say("page.answer.in-hand"), margin: undefined };
  const enough: Plain = { ...first, ...held, verdict, sign: SIGN[verdict], said: air ?? said(verdict) };
  const cleared: Plain = clearing ? { ...second, ...held, said: minutes(clearing.mirror_time_s) } : second;
  return [enough, cleared, { ...dry(water), ...held }];
}

/** The room or run that an answer is about, where there are several: it is the one that is worst off. */
function where(report: Report, name: string | undefined): string | undefined {
  const subject = report.findings.find((finding) => nameOf(finding) === name)?.subject;
  return report.rooms.find(({ id }) => id === subject)?.name || subject;
}

function plain(asked: string, finding: Finding | undefined, missing: string): Plain {
  const verdict = finding?.verdict ?? "unknown";
  const sure = finding?.chance;
  // What isn't known and can't be weighed is best answered by what to look at.
  const look = verdict === "unknown" ? finding?.todo[0]?.text : undefined;
  return {
    asked,
    verdict,
    sign: SIGN[verdict],
    said: finding ? said(verdict) : say("page.not-known"),
    more: !finding ? missing : typeof sure === "number" ? chance(sure) : (look ?? ""),
    sure: typeof sure === "number",
    finding: finding && nameOf(finding),
  };
}

function margin(finding: Finding | undefined, against: Label): Margin | undefined {
  const { figure: found, limit } = finding ?? {};
  return found && limit ? { found, limit, against } : undefined;
}

function air(report: Report): Plain {
  const finding = worst(report.findings, ["airflow.delivered"]);
  const answer = plain(say("page.answer.air"), finding, say("page.answer.air-missing"));
  return { ...answer, margin: margin(finding, "page.answer.asked") };
}

function mirror(report: Report): Plain {
  const finding = worst(report.findings, ["room.clearing.mirror"]);
  const answer = plain(say("page.answer.mirror"), finding, say("page.answer.mirror-missing"));
  const clearing = report.rooms.find((room) => room.id === finding?.subject)?.clearing;
  if (!clearing) return answer;
  // How long it takes is said already.
  const within = margin(finding, "page.answer.good");
  return { ...answer, said: minutes(clearing.mirror_time_s), margin: within && { ...within, found: undefined } };
}

function dry(findings: Finding[]): Plain {
  const finding = worst(findings, DRY);
  const answer = plain(say("page.answer.dry"), finding, say("page.answer.dry-missing"));
  const [of, against] = (finding && WATER[finding.id]) ?? [];
  return { ...answer, of, margin: against && margin(finding, against) };
}
