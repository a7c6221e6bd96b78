import { foldText, hasIdeographs, wordsOf } from "../fold-text.js";
import { readHeader } from "../read-header.js";

const generic = new Set(
  wordsOf(
    `sheet tabelle tabellenblatt blatt feuil feuille hoja foglio planilha folha sheet1 data daten données datos dati dados values value werte wert valeur valor valore mittelwert mean raw rohdaten
    results ergebnisse résultats resultados risultati result ergebnis test tests sweep sweeps temperature temperatur température temperatura frequency frequenz fréquence
    frecuencia frequenza frequência strain dehnung isotherm isotherms isothermal isothermen isothermes isotermas isoterme iso rebound rückprall rebond rebote rimbalzo ressalto resilience resilienz
    dma dmta dmts dynamic dynamisch mechanical mechanisch mechanisches viscoelastic analysis analyse modulus modul measurement messung mesure medida misura export table tab page report bericht master curve
    heating cooling heizen kühlen heizlauf kühllauf run step schritt part amplitude tg tan delta of and und the a in hz mpa °c c multi single dual ramp rampe first second third 1st 2nd 3rd st nd rd th
    hold dwell const constant konstant at bei @ à em f t freq temp no nr segment section block stage cycle zyklus lauf mode modus method physical properties eigenschaften
    nonlinear linear fixed steady soak equilibrate jump increase up down ascending descending repeat repeats rep reps replicate replicates replica wiederholung wdh répétition essai ensayo prova ensaio repetición ripetizione repetição probe specimen testing condition conditions bedingung bedingungen dynamic oscillation oscillatory standard routine`,
  ),
);

/**
 * True for names such as "Sheet1", "Tabelle 2", "Second heating" or "Temperature sweep", which say how something was
 * measured or where it stands, and nothing of a sample.
 */
export function isGenericName(name: string): boolean {
  const folded = foldText(name);
  if (folded === "") return true;
  if (hasIdeographs(folded)) {
    return (
      /^(工作表|シート|数据|データ|表|试验|試験|測定|测试|温度|周波数|频率|回弹|反発)/.test(folded) ||
      readHeader(folded).quantity !== null
    );
  }
  return wordsOf(folded).every(isGenericWord);
}

/** Whether a word is of the kind that every laboratory's titles are made of; numbers are. */
export function isGenericWord(word: string): boolean {
  return generic.has(word.replace(/\d+$/, "")) || generic.has(word) || /^\d+$/.test(word);
}
