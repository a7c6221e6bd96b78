import { foldText, hasIdeographs, wordsOf } from "../fold-text.js";

/**
 * Words that turn a column, a row or a line into something about a quantity, in the eight languages of the reader and
 * a few more (common practice). One vocabulary for headers, for the cells that name rows and for lines outside tables,
 * so that what is a scatter in one place is a scatter in every other.
 */

/** Scatter, counts and errors of values. */
const scatter = new Set(
  wordsOf(
    `std stdev stddev stdv stdabw stabw sdev sd se sem rsd cv cov coeffvar deviation dev error err uncertainty variance var scatter spread range sigma confidence ci
    abweichung standardabweichung standardabw streuung fehler standardfehler spannweite varianz variationskoeffizient messunsicherheit unsicherheit vertrauensbereich konfidenzintervall
    anzahl écart étendue incertitude erreur dispersion desviación desv desvest varianza incertidumbre dispersión rango deviazione scarto errore incertezza
    dispersione desvio dp erro variância incerteza dispersão standardavvikelse avvikelse spridning osäkerhet odchylenie niepewność odchylka nejistota отклонение погрешность sapma sapması szórás eltérés
    count repeatability reproducibility wiederholbarkeit vergleichbarkeit répétabilité reproductibilité repetibilidad reproducibilidad ripetibilità
    riproducibilità repetibilidade reprodutibilidade`,
  ),
);

/** Means and medians: a row of them is no measured row, a column of them may stand for its single values. */
export const meanWords: ReadonlySet<string> = new Set(
  wordsOf(
    `mean avg average median mittel mittelwert mittelw durchschnitt medianwert moyenne moy moyen médiane media mediana promedio medio média medwert
    medelvärde medel średnia průměr среднее ortalama medyan átlag medián`,
  ),
);

/** Limits, targets and what a specification asks for. */
const specification = new Set(
  wordsOf(
    `spec specs specification limit limits target tolerance requirement required min max minimum maximum lower upper lsl usl soll sollwert grenzwert vorgabe
    spezifikation toleranz anforderung limite limites cible tolérance exigence spécification límite límites objetivo tolerancia especificación requisito
    tolleranza specifica obiettivo limiti alvo tolerância especificação gräns gränsvärde krav start end`,
  ),
);

/** What is computed from a quantity, or is another kind of it. */
const relation = new Set(
  wordsOf(
    `index indice índice difference diff differenz différence diferencia differenza diferença change änderung veränderung variation variación variazione variação
    ratio verhältnis relative relativ relativo normalized normalised normiert normalisé normalizado normalizzato rate gradient derivative slope ableitung derivada
    derivata dérivée retention reduced shifted calculated loss% sinδ cosδ static statisch statique estático statico estática statica viscosity stiffness
    correction factor residual rank zscore increment inkrement incremento interval intervall intervalle intervalo intervallo`,
  ),
);

/** A specimen that was aged, stored or soaked before the test. */
const history = new Set(
  wordsOf(
    `aged ageing aging alterung gealtert alterungs wärmealterung vieilli vieillie vieillissement envejecido envejecida envejecimiento invecchiato invecchiata invecchiamento
    envelhecido envelhecida envelhecimento åldrad åldring yaşlandırma yaşlandırılmış öregített öregítés immersion immersed soaked swollen swelling quellung lagerung gelagert inmersión immersione imersão weathered weathering ozone`,
  ),
);

/** Words that take the history away again: "before ageing", "unaged". */
const fresh = new Set(
  wordsOf(
    "before unaged fresh initial original vor avant antes prima ungealtert frisch neuf non pre without ohne sans sin senza sem",
  ),
);

const ideographs = {
  scatter:
    "标准差 标准偏差 標準偏差 標準差 偏差 误差 誤差 变异系数 変動係数 不确定度 不確かさ 极差 極差 方差 再現性 重复性 个数 件数 표준편차 편차 오차",
  mean: "平均值 平均値 平均 中位数 中央値 中值 均值 평균값 평균",
  specification: "上限 下限 目标 目標 最大 最小 公差 规格值 規格値 基準値 要求 限值 상한 하한 목표값",
  relation: "指数 比率 变化率 変化率 差值 変化 变化 保持率",
  history: "老化 経年 浸漬 浸泡 노화 침지",
};
const ideographWords = {
  scatter: ideographs.scatter.split(" "),
  mean: ideographs.mean.split(" "),
  specification: ideographs.specification.split(" "),
  relation: ideographs.relation.split(" "),
  history: ideographs.history.split(" "),
};

/** What a word or two of a header make of its quantity. */
export type Qualifier = "scatter" | "specification" | "relation" | "history";

/**
 * What the words of a header or a name say about its quantity; null where they leave it what it is. Words that a longer
 * term of the trade holds ("set temperature limit" apart) are for the caller to leave out.
 * @example qualifierOf(["rebound", "sd"], "Rebound SD") // "scatter"
 */
export function qualifierOf(words: readonly string[], folded: string): Qualifier | null {
  if (folded.includes("±") || folded.includes("+/-")) return "scatter";
  if (isDifference(folded)) return "relation";
  if (isWaited(folded) && !words.some((word) => fresh.has(word))) return "history";
  for (const word of words) {
    if (scatter.has(word)) return "scatter";
    if (specification.has(word)) return "specification";
    if (relation.has(word)) return "relation";
  }
  if (words.some((word) => history.has(word)) && !words.some((word) => fresh.has(word))) return "history";
  if (hasIdeographs(folded)) {
    for (const kind of ["scatter", "specification", "relation", "history"] as const) {
      if (ideographWords[kind].some((word) => folded.includes(word))) return kind;
    }
  }
  return null;
}

/** "Δ Rebound", "ΔE'": a difference; "Δ" alone and "tan Δ" are angles. */
function isDifference(folded: string): boolean {
  return /^Δ ?(?:\p{L}{2}|[EGM]['*|])/u.test(folded) && !/^Δ ?(?:deg|rad|grad)/i.test(folded);
}

const afterSpan =
  /(?<!\p{L})(?:after|nach|après|tras|después de|dopo|após|depois de) \d+ ?(?:h|hrs?|hours?|d|days?|weeks?|months?|stunden|std|tage?n?|wochen?|monate?n?|heures?|jours?|semaines?|mois|horas?|días?|semanas?|meses|ore|giorni|settimane|mesi|dias?)(?!\p{L})/iu;
const longSpan =
  /(?<!\p{L})\d+ (?:days|weeks|months|tage|wochen|monate|jours|semaines|mois|semanas|meses|giorni|settimane)(?!\p{L})/iu;

/** "after 24 h", "nach 7 d", "2 weeks": a specimen that has waited; seconds and minutes are times of the reading. */
function isWaited(folded: string): boolean {
  return /\d/.test(folded) && (afterSpan.test(folded) || longSpan.test(folded));
}

/** Letters that statistics use for scatter and count; only beside a quantity that was measured, and alone in a cell. */
export const statisticLetters: ReadonlySet<string> = new Set(["s", "n", "u", "σ"]);

/** Words that stand beside a statistic's name in the cell that names its row. */
const beside = new Set(
  wordsOf(
    `of the all overall total sum summe somme suma somma soma value values wert werte valeur valor valore der die das des de du la le les del della di da do % st type typ
    estándar standard padrão coefficient coef koeffizient coefficiente coeficiente test tests impacts rebound rückprall rebond rebote rimbalzo x variation mpa`,
  ),
);
const sums = new Set(wordsOf("sum total summe somme suma somma soma gesamt"));

/** Statistics whose name no compound begins with. */
const telling = new Set(
  [...meanWords, ...scatter].filter((word) => word.length >= 4 && word !== "count" && word !== "range"),
);

/**
 * Whether a cell names a row of statistics, of a specification or of limits, and no sample or remark.
 * @param isName true in the column that names samples, where more is asked: a compound may be called "Max 60"
 * @param samples names met before in that column: "Birch 60 mean" is the mean of Birch 60
 */
export function namesStatistic(cell: string, isName = false, samples: readonly string[] = []): boolean {
  if (cell === "" || cell.length > 60) return false;
  const text = cell.trim();
  if (/^[sn]$/.test(text) || (!isName && /^[SN]$/.test(text))) return true;
  if (/^(?:[øØσμ]|[xX][\u0304\u0305]|[xX][ -]?bar|± ?s?|s²|s ?\[%\]|v ?\[%\]|\+\/-|n ?= ?\d+)$/.test(text))
    return true;
  const folded = foldText(text);
  if (hasIdeographs(folded)) {
    return [...ideographWords.scatter, ...ideographWords.mean, ...ideographWords.specification].some(
      (word) => folded.includes(word) && folded.length <= word.length + 8,
    );
  }
  const words = wordsOf(folded);
  const rest = words.filter((word) => !isStatisticWord(word) && !beside.has(word) && !/^\d+$/.test(word));
  const named = words.filter(isStatisticWord);
  if (named.length === 0) return words.length === 1 && sums.has(words[0]);
  const hasNumber = words.some((word) => /^\d+$/.test(word));
  if (rest.length === 0) return !(isName && hasNumber && named.every((word) => specification.has(word)));
  if (telling.has(words[0])) return true;
  if (!isName) return isStatisticWord(words[0]) && words.length <= 4;
  const bare = words.filter((word) => !isStatisticWord(word)).join(" ");
  return samples.some((sample) => wordsOf(foldText(sample)).join(" ") === bare);
}

function isStatisticWord(word: string): boolean {
  return (
    meanWords.has(word) ||
    scatter.has(word) ||
    (specification.has(word) && word !== "start" && word !== "end")
  );
}
