import { hasIdeographs, wordsOf } from "../fold-text.js";

/** What a name in a preamble announces, beyond the quantities that columns have too. */
export type FactName = "mode" | "heating rate" | "test" | "section" | "remark" | "batch";

const terms: [FactName, string][] = [
  [
    "mode",
    `mode, deformation mode, deformation, deformacja, rodzaj deformacji, deformationstype, mode of deformation, geometry, measuring geometry, clamp, clamping, clamp type, fixture, holder, sample holder,
    load, loading, loading mode, load mode, test mode, type of loading, type of deformation, measurement mode, measuring system, test geometry,
    beanspruchung, beanspruchungsart, belastungsart, belastung, verformungsart, verformungsmodus, deformationsart, deformationsmodus, prüfart, messart, modus,
    geometrie, messgeometrie, probengeometrie, einspannung, probenhalter, halter, messmodus, messsystem, prüfmodus, mode de sollicitation, sollicitation, mode de déformation,
    type de sollicitation, géométrie, montage, mors, mode d'essai, modo, modo de deformación, modo de ensayo, modo de solicitación, geometría, mordaza,
    mordazas, tipo de deformación, solicitación, modo di deformazione, geometria, modo di prova, afferraggio, tipo di deformazione, sollecitazione, modo di sollecitazione,
    modo de deformação, modo de ensaio, tipo de deformação, garra, solicitação, modo de solicitação, tipo de solicitação,
    belastning, belastningssätt, belastningsart, belastningstype, belastningsmåde, belastningsmåte, deformationssätt, deformasjonstype, deformasjon, belasting, belastingswijze, belastingsvorm, vervorming, vervormingswijze,
    kuormitus, kuormitustapa, muodonmuutos, způsob zatěžování, způsob namáhání, namáhání, zatěžování, typ deformace, sposób obciążenia, rodzaj obciążenia`,
  ],
  [
    "heating rate",
    `heating rate, ramp rate, rate, ramp, heating ramp, temperature ramp, temperature rate, cooling rate, rate of heating, scan rate, temperature ramp rate, heating speed,
    heizrate, aufheizrate, heizgeschwindigkeit, aufheizgeschwindigkeit, temperaturrampe, rampe, kühlrate, abkühlrate,
    vitesse de chauffe, vitesse de chauffage, rampe de température, vitesse de montée en température, vitesse de refroidissement, vitesse de rampe, rampe de chauffe,
    velocidad de calentamiento, rampa, rampa de temperatura, velocidad de enfriamiento, tasa de calentamiento, velocidad de rampa, velocità di riscaldamento,
    velocità di raffreddamento, rampa di temperatura, velocità di rampa, rampa di riscaldamento, taxa de aquecimento, velocidade de aquecimento, taxa de resfriamento, taxa de arrefecimento, razão de aquecimento`,
  ],
  [
    "test",
    `test, test type, type of test, test name, experiment, measurement, title, procedure name, program, programme, prüfung, prüfbericht, versuch, messung, prüfprogramm, titel, versuchsart,
    essai, type d'essai, mesure, titre, ensayo, tipo de ensayo, medición, título, prova, tipo di prova, misura, titolo, ensaio, tipo de ensaio, medição`,
  ],
  [
    "section",
    `step, segment, section, sweep, block, stage, part, run, schritt, abschnitt, segment, teil, stufe, étape, etape, segment, section, palier, paso, etapa, fase, tramo, passo, sezione, segmento, secção, seção, data set, dataset, table, tabelle, messreihe`,
  ],
  [
    "remark",
    `remark, remarks, comment, comments, note, notes, bemerkung, bemerkungen, kommentar, notiz, anmerkung, remarque, remarques, commentaire, commentaires, nota, notas, observación, observaciones, comentario,
    comentarios, osservazioni, commento, note, observação, observações, comentário, date, datum, fecha, data, time, operator, prüfer, opérateur, operador, operatore, user, benutzer, customer, kunde, client, laboratory, labor, laboratoire, laboratorio, laboratório,
    instrument, gerät, appareil, equipo, strumento, equipamento, file, datei, fichier, archivo, document, order, auftrag, project, projekt, projet, start temperature, end temperature, starttemperatur, endtemperatur, room, room temperature, raumtemperatur, storage, conditioning, lagerung, relative humidity`,
  ],
  [
    "batch",
    `batch, batch number, lot, lot number, charge, chargennummer, lote, lotto, partita, n de lot, batch no, lot no`,
  ],
];

const nameOfTerm = new Map<string, FactName>();
for (const [name, list] of terms) {
  for (const term of list.split(",")) {
    const key = wordsOf(term).join(" ");
    if (key !== "" && !nameOfTerm.has(key)) nameOfTerm.set(key, name);
  }
}

const ideographTerms: [FactName, string[]][] = [
  [
    "heating rate",
    ["升温速率", "降温速率", "昇温速度", "降温速度", "升溫速率", "加热速率", "加热速度", "昇温レート"],
  ],
  [
    "mode",
    [
      "变形模式",
      "變形模式",
      "变形方式",
      "测试模式",
      "測定モード",
      "変形モード",
      "変形様式",
      "変形方法",
      "变形类型",
      "夹具",
      "夾具",
      "治具",
      "模式",
      "测量模式",
      "几何",
      "加载方式",
      "载荷方式",
      "モード",
      "試験モード",
      "測定方法",
    ],
  ],
  ["remark", ["备注", "備註", "備考", "日期", "日付", "操作", "注释", "コメント", "测试人员", "測定者"]],
  ["section", ["步骤", "阶段", "ステップ", "段階", "区间"]],
  ["test", ["测试", "试验", "試験", "測定"]],
  ["batch", ["批次", "批号", "ロット"]],
];

/**
 * What a preamble's name announces, or null.
 * @example factNameOf("Vitesse de chauffe") // "heating rate"
 */
export function factNameOf(folded: string): FactName | null {
  if (folded.length > 80) return null;
  if (hasIdeographs(folded)) {
    for (const [name, list] of ideographTerms) if (list.some((term) => folded.includes(term))) return name;
    return null;
  }
  const words = wordsOf(folded);
  const last = words[words.length - 1];
  // "Step 3", "Section 2 of 4", "Run no 1"
  const counted = words.filter(
    (word) => !/^\d+$/.test(word) && !["of", "von", "de", "di", "no", "nr", "n"].includes(word),
  );
  if (last !== undefined && counted.length < words.length && counted.length === 1) {
    const name = nameOfTerm.get(counted[0]);
    if (name === "section") return name;
  }
  return nameOfTerm.get(words.join(" ")) ?? null;
}

const limitWords = new Set(
  wordsOf(
    `from to start end begin until between range min max minimum maximum initial final limit limits bis ab start ende anfang zwischen bereich höchstens mindestens
    hasta desde entre rango inicio fin début fin jusqu jusqu' plage da fino inizio fine tra intervallo até início fim faixa up below above under over
    least most up von obere untere oberer unterer högst från till mellan`,
  ),
);

/** Whether a word makes a frequency or temperature beside it a limit or an end of a range, and no value. */
export function isLimitWord(word: string): boolean {
  return limitWords.has(word);
}
