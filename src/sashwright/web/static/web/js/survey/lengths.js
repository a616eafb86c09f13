// Lengths as people type them, read only to draw by them and to notice slips; the shop's computer reads
// them again, exactly.

const INCH = 0.0254;
const UNITS = { "": null, '"': INCH, in: INCH, "'": 12 * INCH, ft: 12 * INCH, mm: 0.001, cm: 0.01, m: 1 };

function amount(text) {
  const mixed = text.match(/^(?:(\d+)[ -]+)?(\d+)\/(\d+)$/);
  if (mixed) {
    const [, whole, top, bottom] = mixed.map((part) => Number(part ?? 0));
    return top < bottom ? whole + top / bottom : NaN;
  }
  return /^\d+(?:[.,]\d+)?$|^[.,]\d+$/.test(text) ? Number(text.replace(",", ".")) : NaN;
}

// In metres; NaN for what is no length.
export function metres(text, system) {
  const plain = String(text ?? "").trim().toLowerCase().replace(/[″“”]/g, '"').replace(/[′‘’]/g, "'");
  const feet = plain.match(/^(\d+) ?(?:'|ft)[ -]*(.+?) ?(?:"|in)?$/);
  if (feet) return (Number(feet[1]) * 12 + amount(feet[2])) * INCH;
  const parts = plain.match(/^([\d ./,-]+?) ?("|'|in|ft|mm|cm|m)?$/);
  if (!parts) return NaN;
  const unit = UNITS[parts[2] ?? ""] ?? (system === "metric" ? 0.001 : INCH);
  return amount(parts[1].trim()) * unit;
}

export function lengthSays(text, system) {
  const read = metres(text, system);
  if (Number.isFinite(read) && read > 0) return "";
  const wanted = system === "metric" ? "a length such as 873 or 87.3 cm" : "a length such as 34 3/8, 34.375 or 873 mm";
  return text ? `Found “${text}”, expected ${wanted}.` : `Expected ${wanted}.`;
}

// Without the unit that everybody there has in mind.
export function shortly(text, system) {
  return String(text ?? "").replace(system === "metric" ? / mm$/ : / in$/, "");
}
