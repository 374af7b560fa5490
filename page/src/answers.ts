// The three plain answers, picked from the report. Nothing is computed here: the words of points are those of the engine.
import type { Followed } from "./engine/ask";
import type { Finding, Report, Triple } from "./engine/report";

export type Verdict = Finding["verdict"];

export interface Plain {
  asked: string;
  verdict: Verdict;
  sign: string;
  said: string;
  more: string;
  /** `id/subject` of the point with the working. */
  finding: string | undefined;
}

export const SIGN: Record<Verdict, string> = { holds: "✓", caution: "△", fails: "✕", unknown: "?" };
export const SAID: Record<Verdict, string> = { holds: "yes", caution: "look here", fails: "no", unknown: "not sure" };

const ORDER: Verdict[] = ["fails", "unknown", "caution", "holds"];

export const nameOf = (finding: Finding): string => `${finding.id}/${finding.subject}`;

function worst(report: Report, begins: string[]): Finding | undefined {
  const of = report.findings.filter(({ id }) => begins.some((begin) => id === begin || id.startsWith(`${begin}.`)));
  return of.sort((a, b) => ORDER.indexOf(a.verdict) - ORDER.indexOf(b.verdict))[0];
}

function minutes(time: Triple): string {
  const of = (seconds: number) => String(Math.round(seconds / 60));
  const [low, likely, high] = [of(time.low), of(time.likely), of(time.high)];
  return low === high ? `${likely} min` : `${likely} min (${low} to ${high})`;
}

export const chance = (share: number): string => `chance ${share > 0.99 ? "over 99" : Math.round(100 * share)} %`;

export function plainAnswers(report: Report): [Plain, Plain, Plain] {
  return [air(report), mirror(report), dry(report)];
}

/** The same while a hand moves a housing, with the way outdoors that follows it; the water in the duct is worked out at rest. */
export function answersInHand(report: Report, { route, air, clearing }: Followed): Plain[] {
  const { verdict } = route;
  const [first, second, third] = plainAnswers(report);
  const more = "under your hand";
  const left: Plain = { ...third, verdict: "unknown", sign: SIGN.unknown, said: "once you let go", more: "" };
  const enough: Plain = { ...first, verdict, sign: SIGN[verdict], said: air ?? SAID[verdict], more };
  const cleared: Plain = clearing ? { ...second, said: minutes(clearing.mirror_time_s), more } : second;
  return [enough, cleared, left];
}

function plain(asked: string, finding: Finding | undefined, missing: string): Plain {
  const verdict = finding?.verdict ?? "unknown";
  return {
    asked,
    verdict,
    sign: SIGN[verdict],
    said: finding ? SAID[verdict] : "not known",
    more: finding ? "" : missing,
    finding: finding && nameOf(finding),
  };
}

function air(report: Report): Plain {
  const answer = plain("Enough air?", worst(report, ["airflow.delivered"]), "say what fan and duct there are");
  const sure = report.rooms.map((room) => room.delivered?.chance_enough).find((share) => typeof share === "number");
  return typeof sure === "number" ? { ...answer, more: chance(sure) } : answer;
}

function mirror(report: Report): Plain {
  const answer = plain("Mirror clear?", worst(report, ["room.clearing.mirror"]), "say how large the room is");
  const clearing = report.rooms.map((room) => room.clearing).find((found) => found);
  if (!clearing) return answer;
  return { ...answer, said: minutes(clearing.mirror_time_s), more: chance(clearing.mirror_clears_ratio) };
}

function dry(report: Report): Plain {
  return plain(
    "Stays dry?",
    worst(report, ["duct.condensate", "duct.frost", "duct.sweating", "duct.drain", "housing.leak", "room.mould"]),
    "say where the duct runs",
  );
}
