/** What kind of rebound test a method's name stands for. Values compare within one `key` only. */
export interface ReboundMethod {
  key: string;
  /** True where the name holds a standard, or a device, that is known here. */
  known: boolean;
}

/**
 * Standards of rebound tests, and those that are equivalent to them (titles and equivalences from memory):
 * - ISO 4662: pendulum of 0.5 J on 12.5 mm of rubber. DIN 53512 and ASTM D7121 use the same Schob pendulum;
 *   JIS K 6255, BS 903-A8 and GB/T 1681 are national editions of ISO 4662.
 * - ASTM D1054: Goodyear-Healey pendulum, heavier and slower, with another indenter.
 * - ASTM D2632: vertical rebound of a plunger.
 * - ISO 8307: ball dropped on flexible foam; JIS K 6400-3 and GB/T 6670 are national editions.
 * - ASTM D3574, test H: ball on foam, with another ball and drop. ASTM D945: Yerzley oscillograph.
 */
const standards: [key: string, pattern: RegExp][] = [
  [
    "ISO 4662",
    /(?<!\d)4662(?!\d)|(?<!\d)53 ?512(?!\d)|(?<!\d)7121(?!\d)|k[ -]?6255(?!\d)|903\W*(?:part )?a ?8(?!\d)|gb ?\/? ?t? ?1681(?!\d)|schob/,
  ],
  ["ASTM D1054", /d[ -]?1054(?!\d)|goodyear|healey/],
  ["ASTM D2632", /(?<!\d)2632(?!\d)/],
  ["ISO 8307", /(?<!\d)8307(?!\d)|k[ -]?6400(?!\d)|gb ?\/? ?t? ?6670(?!\d)/],
  ["ASTM D3574", /d[ -]?3574(?!\d)/],
  ["ASTM D945", /d[ -]?945(?!\d)|yerzley/],
];

/**
 * The method that a name stands for: its standard where it names one that is known here, else the name itself, so
 * that an unknown method compares with nothing but itself. A name with two unlike standards is unknown.
 * @example reboundMethodOf("Schob-Pendel, DIN 53 512").key // "ISO 4662"
 */
export function reboundMethodOf(name: string): ReboundMethod {
  const folded = name.normalize("NFKC").toLowerCase().replace(/\s+/g, " ").trim();
  const named = standards.filter(([, pattern]) => pattern.test(folded));
  return named.length === 1 ? { key: named[0][0], known: true } : { key: folded, known: false };
}
