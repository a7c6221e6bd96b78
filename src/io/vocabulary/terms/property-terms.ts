import type { Quantity } from "../quantities.js";

/**
 * Trade terms for durability and routine properties, in the languages of the reader (common practice). Compared without
 * letter case and accents, word by word.
 */
export const propertyTerms: [Quantity, string][] = [
  [
    "hardness",
    `hardness, shore hardness, hardness shore, shore a, shore a hardness, hardness shore a, shore d, irhd, hardness irhd, irhd hardness, durometer, durometer a, durometer hardness, indentation hardness, härte, haerte, shore härte,
    shore a härte, härte shore a, härte shore, mikrohärte, dureté, dureté shore, dureté shore a, dureza, dureza shore, dureza shore a, durezza, durezza shore, durezza shore a, hårdhet, twardość, tvrdost, твердость, hardheid, kovuus, hårdhed`,
  ],
  [
    "abrasion loss",
    `abrasion, abrasion loss, abrasion volume loss, volume loss, din abrasion, abrasion din, relative volume loss, loss of volume, wear, wear loss, abrasion volume, abrieb, din abrieb, abriebverlust, volumenverlust,
    abriebvolumen, abriebmenge, perte par abrasion, perte à l'abrasion, abrasion din, perte de volume, perte volumique, usure, abrasión, pérdida por abrasión, pérdida de volumen, pérdida por desgaste, desgaste, abrasione,
    perdita per abrasione, perdita di volume, usura, abrasão, perda por abrasão, perda de volume, desgaste por abrasão, nötning, ścieralność, oděr, истираемость, slijtage, slid, slitage, slitasje, odírání, obrus, kuluminen`,
  ],
  [
    "abrasion resistance index",
    `abrasion resistance index, abrasion index, ari, abrasion resistance, pico index, pico abrasion index, abrasion resistance pico index, abriebwiderstandsindex, abriebindex, abriebfestigkeit, indice de résistance à l'abrasion, indice d'abrasion, résistance à l'abrasion, índice de resistencia a la abrasión,
    resistencia a la abrasión, indice di resistenza all'abrasione, resistenza all'abrasione, índice de resistência à abrasão, resistência à abrasão`,
  ],
  [
    "tensile strength",
    `tensile strength, tensile, ultimate tensile strength, uts, tensile stress at break, stress at break, strength at break, breaking strength, zugfestigkeit, reissfestigkeit, reißfestigkeit, bruchspannung, résistance à la traction,
    résistance à la rupture, contrainte à la rupture, contrainte rupture, force à la rupture, résistance traction, resistencia a la tracción, resistencia a tracción, resistencia tracción, tensión de rotura, tensión a la rotura, carga de rotura, resistenza a trazione,
    resistenza alla trazione, carico di rottura, carico a rottura, resistência à tração, resistência à tracção, tensão de ruptura, tensão de rutura, tensão na ruptura, draghållfasthet, brottspänning, wytrzymałość na rozciąganie, pevnost v tahu,
    прочность при растяжении, treksterkte, trækstyrke, trækbrudstyrke, strekkfasthet, strekkstyrke, vetolujuus`,
  ],
  [
    "elongation at break",
    `elongation at break, elongation, ultimate elongation, strain at break, elongation break, bruchdehnung, reissdehnung, reißdehnung, dehnung bei bruch, allongement à la rupture, allongement rupture, allongement, déformation à la rupture, alargamiento a la rotura,
    alargamiento de rotura, alargamiento en rotura, alargamiento, elongación a la rotura, elongación, allungamento a rottura, allungamento alla rottura, allungamento, alongamento na ruptura, alongamento à ruptura, alongamento à rutura,
    alongamento, brottöjning, wydłużenie przy zerwaniu, tažnost, относительное удлинение, rek bij breuk, breukrek, brudforlængelse, bruddforlengelse, murtovenymä`,
  ],
  ["stress at 50 %", "xstress50"],
  ["stress at 100 %", "xstress100"],
  ["stress at 200 %", "xstress200"],
  ["stress at 300 %", "xstress300"],
  [
    "tear strength",
    `tear strength, tear, tear resistance, tear energy, graves, graves tear, trouser tear, angle tear, crescent tear, tear strength graves, weiterreisswiderstand, weiterreißwiderstand, weiterreissfestigkeit, weiterreißfestigkeit, strukturfestigkeit,
    einreissfestigkeit, résistance au déchirement, déchirement, résistance déchirement, resistencia al desgarro, desgarro, resistenza alla lacerazione, lacerazione, resistenza a lacerazione, resistência ao rasgamento, resistência ao rasgo, rasgamento, rasgo,
    rivhållfasthet, rivstyrka, wytrzymałość na rozdzieranie, strukturní pevnost, сопротивление раздиру, rivestyrke, rivefasthet, scheursterkte, repäisylujuus`,
  ],
  [
    "compression set",
    `compression set, comp set, set compression, permanent set, druckverformungsrest, dvr, bleibende verformung, déformation rémanente après compression, déformation rémanente à la compression, déformation rémanente, déformation permanente, drc,
    deformación remanente por compresión, deformación remanente, deformación permanente, deformación permanente por compresión, deformazione permanente a compressione, deformazione permanente, deformazione residua, compression set, deformação permanente à compressão,
    deformação permanente por compressão, deformação permanente, deformação residual, sättning, odkształcenie trwałe, trvalá deformace, blivende deformation, blijvende vervorming, puristuspainuma`,
  ],
  [
    "density",
    `density, specific gravity, specific weight, sg, dichte, rohdichte, spezifisches gewicht, densité, masse volumique, densidad, peso específico, densità, peso specifico, massa volumica, densidade, massa específica, densitet, gęstość, hustota, плотность, dichtheid, tetthet, massefylde, tiheys`,
  ],
  [
    "flex cracking",
    `flex cracking, flex fatigue, flex life, flex resistance, flexing, flex cracking resistance, flexing cycles, de mattia, de mattia flex cracking, ross flex, crack growth, flexing endurance, dauerbiegefestigkeit, biegerissfestigkeit, rissbildung, dauerknickfestigkeit, knickfestigkeit,
    biegewechsel, ermüdung, résistance à la flexion, fissuration par flexion, résistance à la fissuration, flexions avant fissuration, resistencia a la flexión, agrietamiento por flexión, resistencia a flexión, fatiga por flexión, resistenza a flessione, resistenza alle flessioni,
    screpolatura per flessione, resistência à flexão, fissuração por flexão, fadiga por flexão`,
  ],
];

/** Chinese and Japanese, looked for inside a header. */
export const propertyIdeographs: [Quantity, string][] = [
  ["hardness", "硬度 硬さ 邵氏硬度 邵尔硬度 邵尔A硬度 ショア硬さ 硬さ試験"],
  ["abrasion loss", "磨耗 磨耗量 磨耗体积 体积磨耗 體積磨耗 摩耗 摩耗量 摩耗体積 DIN磨耗 DIN摩耗 磨损量"],
  ["abrasion resistance index", "耐磨指数 耐磨耗指数 摩耗抵抗指数 耐摩耗指数"],
  ["tensile strength", "拉伸强度 拉伸強度 抗拉强度 扯断强度 引張強さ 引張強度 引張り強さ"],
  [
    "elongation at break",
    "拉断伸长率 断裂伸长率 扯断伸长率 斷裂伸長率 伸长率 破断伸び 切断時伸び 破断時伸び 伸び",
  ],
  ["stress at 100 %", "100%定伸应力 100%定伸應力 100%引張応力 100%モジュラス 100%定伸"],
  ["stress at 300 %", "300%定伸应力 300%定伸應力 300%引張応力 300%モジュラス 300%定伸"],
  ["stress at 200 %", "200%定伸应力 200%定伸應力 200%引張応力 200%モジュラス 200%定伸"],
  ["stress at 50 %", "50%定伸应力 50%引張応力 50%モジュラス"],
  ["tear strength", "撕裂强度 撕裂強度 引裂強さ 引裂強度 引裂き強さ"],
  ["compression set", "压缩永久变形 壓縮永久變形 圧縮永久ひずみ 圧縮永久歪み 圧縮永久歪 压缩变形"],
  ["density", "密度 比重 比重量"],
  ["flex cracking", "屈挠龟裂 耐屈挠 屈挠次数 屈撓龜裂 屈曲亀裂 屈曲疲労 耐屈曲"],
];
