import { foldText, hasIdeographs, wordsOf } from "../vocabulary/fold-text.js";
import { readHeader } from "../vocabulary/read-header.js";

const generic = new Set(
  wordsOf(
    `sheet tabelle tabellenblatt blatt feuil feuille hoja foglio planilha folha sheet1 data daten données datos dati dados values werte raw rohdaten
    results ergebnisse résultats resultados risultati test tests sweep sweeps temperature temperatur température temperatura frequency frequenz fréquence
    frecuencia frequenza frequência strain dehnung isotherm isotherms isothermen isothermes isotermas isoterme rebound rückprall rebond rebote rimbalzo ressalto resilience resilienz
    dma dmta dynamic dynamisch mechanical mechanisch modulus modul measurement messung mesure medida misura export table tab page report bericht master curve
    heating cooling heizen kühlen run step schritt part amplitude tg tan delta of and und the hz mpa °c c`,
  ),
);

/** True for names such as "Sheet1", "Tabelle 2" or "Temperature sweep", which say nothing of a sample. */
export function isGenericSheetName(name: string): boolean {
  const folded = foldText(name);
  if (folded === "") return true;
  if (hasIdeographs(folded)) {
    return (
      /^(工作表|シート|数据|データ|表|试验|試験|測定|测试|温度|周波数|频率|回弹|反発)/.test(folded) ||
      readHeader(folded).quantity !== null
    );
  }
  return wordsOf(folded).every(
    (word) => generic.has(word.replace(/\d+$/, "")) || generic.has(word) || /^\d+$/.test(word),
  );
}
