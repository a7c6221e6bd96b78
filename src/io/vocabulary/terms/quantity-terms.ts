import { wordsOf } from "../fold-text.js";
import type { Quantity } from "../quantities.js";
import { propertyTerms } from "./property-terms.js";

/**
 * Trade terms for what a column holds, in English, German, French, Spanish, Italian and Portuguese
 * (common practice), Turkish and Hungarian (from memory). Compared without letter case and accents, word by word.
 */
const terms: [Quantity, string][] = [
  [
    "temperature",
    `temperature, temp, temperatur, temperatura, température, tº, sample temperature, test temperature,
    specimen temperature, measured temperature, actual temperature, probentemperatur, prüftemperatur,
    messtemperatur, isttemperatur, ist temperatur, température d'essai, température de l'échantillon,
    température échantillon, température mesurée, temperatura de ensayo, temperatura de la muestra,
    temperatura di prova, temperatura campione, temperatura del campione, temperatura de ensaio,
    temperatura da amostra, theta, provtemperatur, provningstemperatur, temp meas, meas temp, measured temp, actual temp, act temp, teplota, temperatura próbki, temperatura badania, teplota vzorku, температура, температура образца, температура испытания, lämpötila, temperatuur, mätttemperatur, provets temperatur,
    sıcaklık, numune sıcaklığı, test sıcaklığı, deney sıcaklığı, ölçülen sıcaklık, hőmérséklet, mért hőmérséklet, minta hőmérséklete, vizsgálati hőmérséklet`,
  ],
  [
    "set temperature",
    `set temperature, setpoint temperature, temperature setpoint, set point temperature, nominal temperature,
    target temperature, temperature set point, programmed temperature, program temperature, set temp,
    temp set, solltemperatur, soll temperatur, temperatur soll, temperatur sollwert, nenntemperatur, température de consigne,
    consigne de température, consigne, température nominale, temperatura de consigna, temperatura nominal,
    temperatura programada, temperatura impostata, temperatura nominale, temperatura programmata,
    temperatura definida, oven temperature, furnace temperature, chamber temperature, ofentemperatur,
    kammertemperatur, température du four, température enceinte, temperatura del horno, temperatura forno,
    temperatura del forno, temperatura do forno, ambient temperature, raumtemperatur, room temperature,
    laboratory temperature, lab temperature, labortemperatur, furnace temp, oven temp, chamber temp, t furnace, t oven, t chamber, furnace t, oven t,
    chamber t, bath temperature, bath temp, controller temperature, controller temp, programmed temp, nominal temp, target temp, setpoint temp,
    temp setpoint, ofentemp, t ofen, kammertemp, t kammer, soll temp, temp soll, t soll, umgebungstemperatur, temp four, t four, t consigne, t horno, t forno,
    ayar sıcaklığı, hedef sıcaklık, fırın sıcaklığı, beállított hőmérséklet, névleges hőmérséklet`,
  ],
  [
    "frequency",
    `frequency, freq, frequenz, fréquence, frecuencia, frequenza, frequência, test frequency, prüffrequenz,
    messfrequenz, anregungsfrequenz, excitation frequency, fréquence d'essai, frecuencia de ensayo,
    frequenza di prova, frequência de ensaio, oscillation frequency, fréq, frec, frekvens, mätfrekvens, częstotliwość, czestotliwosc, częstość, frekvence, kmitočet, частота, частота испытания, taajuus, frequentie,
    frekans, test frekansı, deney frekansı, frekvencia, vizsgálati frekvencia, mérési frekvencia`,
  ],
  [
    "angular frequency",
    `angular frequency, ang frequency, ang freq, angular freq, omega, circular frequency, kreisfrequenz,
    winkelfrequenz, pulsation, fréquence angulaire, fréquence circulaire, frecuencia angular, pulsación,
    frequenza angolare, pulsazione, frequência angular, pulsação, radian frequency, vinkelfrekvens, pulsacja, częstość kołowa, úhlová frekvence, угловая частота, круговая частота,
    açısal frekans, körfrekvencia`,
  ],
  [
    "time",
    `time, elapsed time, test time, total time, step time, run time, zeit, messzeit, prüfzeit, versuchszeit, zeitpunkt, temps, temps écoulé,
    durée, tiempo, tiempo transcurrido, tempo, tempo trascorso, tempo di prova, tempo decorrido, tempo de ensaio, tid, czas, čas, время, aika, tijd,
    zaman, süre, test süresi, deney süresi, idő, mérési idő, eltelt idő`,
  ],
  [
    "storage modulus",
    `storage modulus, storage mod, stor modulus, elastic modulus, real modulus, in phase modulus, storage young's modulus,
    storage shear modulus, shear storage modulus, tensile storage modulus, flexural storage modulus,
    dynamic storage modulus, e prime, g prime, m prime, e' modulus, real part of modulus, real part of the modulus,
    speichermodul, schubspeichermodul, scherspeichermodul, zugspeichermodul, biegespeichermodul, e speichermodul,
    elastischer modul, speicher modul, speichermodulus, realteil des moduls, module de conservation,
    module conservation, module de stockage, module élastique, module réel, partie réelle du module,
    módulo de almacenamiento, módulo almacenamiento, módulo de conservación, módulo elástico, módulo real,
    modulo conservativo, modulo di conservazione, modulo di accumulo, modulo elastico, modulo reale,
    módulo de armazenamento, módulo de armazenagem, módulo de conservação, e storage, g storage, storage e, storage g, re e*, re g*, stor mod, sto mod, storage m, storagemodulus, elastic mod, el modulus, lagringsmodul, elastisk modul, moduł zachowawczy, modul zachowawczy, moduł sprężystości zachowawczej, moduł magazynowania, moduł akumulacji, paměťový modul, elastický modul, soufázový modul, reálný modul, modul pružnosti soufázový, модуль накопления, динамический модуль упругости, модуль упругости динамический, действительная часть модуля, opslagmodulus, opslag modulus, varastomoduuli,
    depolama modülü, tárolási modulus, tárolási modulusz`,
  ],
  [
    "loss modulus",
    `loss modulus, loss mod, viscous modulus, imaginary modulus, out of phase modulus, loss young's modulus,
    loss shear modulus, shear loss modulus, tensile loss modulus, flexural loss modulus, dynamic loss modulus,
    e double prime, g double prime, m double prime, e dprime, g dprime, imaginary part of modulus,
    imaginary part of the modulus, verlustmodul, schubverlustmodul, scherverlustmodul, zugverlustmodul,
    biegeverlustmodul, viskoser modul, verlust modul, imaginärteil des moduls, module de perte, module de pertes, tabsmodul, tapsmodul,
    module perte, module visqueux, module dissipatif, module imaginaire, partie imaginaire du module,
    módulo de pérdida, módulo de pérdidas, módulo pérdida, módulo viscoso, módulo imaginario, modulo di perdita,
    modulo dissipativo, modulo di dissipazione, modulo viscoso, modulo immaginario, módulo de perda, módulo de perdas,
    módulo de dissipação, módulo dissipativo, e loss, g loss, loss e, loss g, im e*, im g*, loss m, los mod, lossmodulus, viscous mod, förlustmodul, moduł stratności, modul stratnosci, moduł strat, ztrátový modul, imaginární modul, модуль потерь, модуль механических потерь, динамический модуль потерь, мнимая часть модуля, verliesmodulus, häviömoduuli,
    kayıp modülü, veszteségi modulus, veszteségi modulusz`,
  ],
  [
    "complex modulus",
    `complex modulus, complex mod, complex young's modulus, complex shear modulus, shear complex modulus,
    dynamic modulus, absolute modulus, modulus magnitude, magnitude of complex modulus, magnitude of the complex modulus,
    modulus of complex modulus, absolute value of complex modulus, abs complex modulus,
    komplexer modul, komplexmodul, komplexer schubmodul, komplexer e modul, komplexer elastizitätsmodul,
    betrag des komplexen moduls, betrag des komplexen schubmoduls, betrag des komplexen e moduls, dynamischer modul,
    module complexe, module dynamique, norme du module complexe, module du module complexe, módulo complejo,
    módulo dinámico, modulo complesso, modulo dinamico, módulo complexo, módulo dinâmico, e star, g star, compl mod, cplx modulus, dyn modulus, dyn mod, complexmodulus, abs modulus, abs mod, komplex modul, komplexmodul, dynamisk modul, komplekst modul, kompleks modul, complexe modulus, kompleksimoduuli, moduł zespolony, komplexní modul, dynamický modul, комплексный модуль, динамический модуль,
    kompleks modül, kompleks modülü, karmaşık modül, komplex modulus, komplex modulusz`,
  ],
  [
    "tan delta",
    `tan delta, tan d, tand, tandelta, tan δ, tanδ, tan del, loss factor, loss tangent, tangent delta, tangent of loss angle, damping factor,
    damping, dissipation factor, mechanical loss factor, verlustfaktor, mechanischer verlustfaktor,
    dämpfungsfaktor, dämpfung, verlustwinkeltangens, tangens delta, facteur de perte, facteur de pertes, facteur d'amortissement,
    amortissement, tangente de perte, tangente de l'angle de perte, tangente delta, angle de perte tan,
    factor de pérdida, factor de pérdidas, factor de amortiguamiento, amortiguamiento, tangente de pérdida,
    tangente de pérdidas, tangente del ángulo de pérdida, fattore di perdita, fattore di smorzamento, fattore di dissipazione, smorzamento,
    tangente di perdita, tangente dell'angolo di perdita, fator de perda, fator de perdas, fator de amortecimento, fator de dissipação,
    amortecimento, tangente de perda, tangente de perdas, tangente do ângulo de perda, tg delta, tg δ, tgδ, tgd, loss fact, lossfactor, losstangent, tan del, förlustfaktor, dämpningsfaktor, tangens kąta stratności, współczynnik strat, współczynnik stratności, ztrátový činitel, ztrátový faktor, tangens ztrátového úhlu, тангенс угла потерь, тангенс угла механических потерь, коэффициент потерь, фактор потерь, häviökerroin, häviötekijä, verliesfactor, tabsfaktor, tapsfaktor,
    kayıp faktörü, kayıp tanjantı, sönüm faktörü, veszteségi tényező, veszteségtényező`,
  ],
  [
    "phase angle",
    `phase angle, phase, loss angle, phase shift, phase lag, phase difference, delta, phasenwinkel, phasenverschiebung, phasenverschiebungswinkel,
    verlustwinkel, angle de phase, angle de perte, déphasage, ángulo de fase, ángulo de pérdida, desfase,
    ángulo de desfase, angolo di fase, angolo di perdita, sfasamento, angolo di sfasamento, ângulo de fase, ângulo de perda,
    desfasamento, desfasagem, defasagem, phase delta, phase ang, fasvinkel, förlustvinkel, kąt fazowy, kąt przesunięcia fazowego, kąt stratności, fázový úhel, ztrátový úhel, фазовый угол, угол потерь, сдвиг фаз, fasevinkel, fasehoek, verlieshoek, vaihekulma,
    faz açısı, kayıp açısı, fázisszög, veszteségi szög`,
  ],
  [
    "strain amplitude",
    `strain, strain amplitude, dynamic strain, dynamic strain amplitude, oscillation strain, shear strain,
    shear strain amplitude, single strain amplitude, tensile strain, measured strain, dehnung, dehnungsamplitude,
    deformation, deformation amplitude, deformationsamplitude, scherdeformation, scherung, scherdehnung, scheramplitude,
    schiebung, verformung, verformungsamplitude, dynamische dehnung, dynamische dehnungsamplitude, déformation,
    amplitude de déformation, amplitude de la déformation, déformation dynamique, taux de déformation,
    taux de cisaillement, deformación, amplitud de deformación, deformación dinámica, deformazione,
    ampiezza di deformazione, ampiezza della deformazione, deformazione dinamica, deformação, amplitude de deformação, amplitude da deformação,
    deformação dinâmica, distorção, gamma, gamma0, epsilon, dyn strain, strain amp, töjning, töjningsamplitud, skjuvtöjning, odkształcenie, amplituda odkształcenia, deformace, amplituda deformace, деформация, амплитуда деформации, tøjning, tøyning, rek, rekamplitude, venymä,
    gerinim, gerinim genliği, kayma gerinimi, birim şekil değiştirme, alakváltozás, alakváltozási amplitúdó, deformáció, deformációs amplitúdó`,
  ],
  [
    "storage compliance",
    `storage compliance, in phase compliance, real compliance, shear storage compliance, tensile storage compliance, dynamic storage compliance, speichernachgiebigkeit, speicherkomplianz,
    complaisance de conservation, complaisance de stockage, compliancia de almacenamiento, cedevolezza conservativa, compliance conservativa, complacência de armazenamento`,
  ],
  [
    "loss compliance",
    `loss compliance, out of phase compliance, imaginary compliance, shear loss compliance, tensile loss compliance, dynamic loss compliance, verlustnachgiebigkeit, verlustkomplianz,
    complaisance de perte, compliancia de pérdida, cedevolezza dissipativa, compliance dissipativa, complacência de perda`,
  ],
  [
    "complex compliance",
    `complex compliance, dynamic compliance, absolute compliance, komplexe nachgiebigkeit, komplexe komplianz, complaisance complexe, complaisance dynamique, compliancia compleja,
    compliance complessa, cedevolezza complessa, complacência complexa`,
  ],
  [
    "displacement amplitude",
    `displacement, displacement amplitude, dynamic displacement, dynamic displacement amplitude, oscillation displacement, amplitude, amplitud, ampiezza, weg, wegamplitude, auslenkung,
    auslenkungsamplitude, dynamischer weg, déplacement, amplitude de déplacement, déplacement dynamique, desplazamiento, amplitud de desplazamiento, spostamento, ampiezza di spostamento,
    deslocamento, amplitude de deslocamento, förskjutning`,
  ],
  [
    "double strain amplitude",
    `double strain amplitude, dsa, peak to peak strain, strain peak to peak, strain amplitude peak to peak, doppelte dehnungsamplitude,
    déformation crête à crête, déformation crête crête, deformación pico a pico, deformazione picco picco`,
  ],
  [
    "rebound resilience",
    `rebound resilience, rebound, resilience, rebound elasticity, rebound value, rebound r, rückprall,
    rückprallelastizität, rückpralelastizität, rueckprall, rueckprallelastizitaet, rueckprallelastizität, rebound elastizität,
    stosselastizität, stoßelastizität, rückprallwert, rebond, résilience, résilience de rebondissement, rebondissement,
    résilience au rebond, rebote, resiliencia, resiliencia de rebote, resiliencia al rebote, resiliencia por rebote,
    elasticidad de rebote, rimbalzo, resilienza, resilienza al rimbalzo, resilienza di rimbalzo,
    elasticità di rimbalzo, elasticità al rimbalzo, resiliência, ressalto, resiliência ao ressalto, resiliência de ressalto,
    resiliência ao rebote, resiliência por ressalto, studselasticitet, återstuds, återstudselasticitet, impact resilience, ball rebound, rebound rate, rebound percentage, rebound percent, returned energy, energy returned, återfjädring, elastyczność przy odbiciu, elastyczność odbicia, elastyczność, odskok, odbojność, odrazová pružnost, pružnost odrazem, эластичность по отскоку, отскок, veerkracht, terugveerkracht, terugslagelasticiteit, kimmoisuus, tilbagespring, tilbagespringselasticitet, tilbakesprett,
    geri sıçrama, rezilyans, visszapattanás, visszapattanási rugalmasság`,
  ],
  [
    "rebound height",
    `rebound height, height of rebound, return height, rückprallhöhe, rücksprunghöhe, rueckprallhoehe,
    hauteur de rebond, hauteur rebond, hauteur de rebondissement, altura de rebote, altura del rebote,
    altezza di rimbalzo, altezza del rimbalzo, altura de ressalto, altura do ressalto, altura de ricochete, h rebound`,
  ],
  [
    "drop height",
    `drop height, height of drop, fall height, release height, fallhöhe, fallhoehe, ausgangshöhe, hauteur de chute,
    altura de caída, altura de la caída, altezza di caduta, altura de queda, altura da queda, h drop`,
  ],
  [
    "rebound angle",
    `rebound angle, angle of rebound, return angle, rückprallwinkel, rücksprungwinkel, rueckprallwinkel,
    angle de rebond, angle de rebondissement, ángulo de rebote, angolo di rimbalzo, ângulo de ressalto, ângulo de rebote`,
  ],
  [
    "drop angle",
    `drop angle, angle of drop, angle of fall, fall angle, release angle, initial angle, fallwinkel, auslenkwinkel, ausgangswinkel,
    auslenkungswinkel, angle de chute, angle initial, ángulo de caída, ángulo inicial, angolo di caduta, angolo iniziale, ângulo de queda, ângulo inicial`,
  ],
  [
    "impact number",
    `impact number, impact no, impact, blow, blow number, schlag, schlagnummer, schlag nr, impact n, choc, choc n, n de choc, impacto, impatto, colpo, golpe`,
  ],
  [
    "sample",
    `sample, sample name, sample id, sample no, sample number, sample code, compound, compound name, compound id, compound code, mix, mixture, probe,
    probenname, probenbezeichnung, proben id, probennummer, probe nr, bezeichnung der probe, mischung, mischungsname, mischungsbezeichnung, mischungsnummer, compoundname,
    échantillon, nom de l'échantillon, nom échantillon, référence échantillon, n échantillon, mélange, nom du mélange,
    composé, muestra, nombre de la muestra, nombre de muestra, id de muestra, compuesto, mezcla, nombre del compuesto, campione, nome campione,
    nome del campione, id campione, mescola, nome mescola, amostra, nome da amostra, id da amostra, composto, mistura, formulation, formulação, formulación, formulazione, formulierung,
    rezeptur, recipe, blandning, provnamn, provbeteckning, prov, provets namn, próbka, nazwa próbki, mieszanka, vzorek, název vzorku, směs, образец, смесь, наименование образца, näyte, näytteen nimi, seos, monster, monsternaam, proefstuk, mengsel, prøve, prøvenavn, prøvebetegnelse, prøvenummer, blanding,
    numune, numune adı, numune kodu, karışım, karışım adı, minta, minta neve, mintanév, minta jele, keverék, keverék neve`,
  ],
  [
    "name",
    `material, material name, grade, grade name, quality, qualität, qualité, qualità, qualidade, calidad, sorte, specimen, specimen name, specimen id, specimen no, specimen number, werkstoff, materialname, materialbezeichnung, prüfling,
    prüfkörper, probekörper, test piece, test piece no, test piece number, provkropp, matériau, matière, éprouvette, nom, material, probeta, nombre, materiale, provino, nome, provete,
    corpo de prova, name, bezeichnung, designation, désignation, denominación, denominazione, designação, description, label, identification, title, désignation de l'éprouvette, désignation éprouvette, nom de l'éprouvette, référence éprouvette, désignation de l'échantillon,
    malzeme, malzeme adı, anyag, anyagnév, megnevezés, próbatest`,
  ],
  [
    "method",
    `method, test method, standard, norm, prüfverfahren, verfahren, methode, méthode, norme, méthode d'essai, método, método de ensayo,
    norma, metodo, metodo di prova, método de ensaio, prüfmethode, test standard, procedure, test procedure, standard method, method standard,
    method name, standard no, standard number, test specification, testing standard, rebound method, prüfnorm, prüfstandard, prüfvorschrift, normbezeichnung, norm nr, messverfahren, messmethode, prüfnorm nr,
    norme d'essai, méthode de mesure, procédure, procédure d'essai, mode opératoire, référence norme, norma de ensayo, método de prueba, norma de prueba, procedimiento,
    procedimiento de ensayo, norma di prova, metodo di misura, procedura, procedura di prova, norma di riferimento, norma de ensaio, procedimento,
    metod, provmetod, provningsmetod, mätmetod, provningsstandard, provstandard, standard nr, metoda, norma badania, zkušební norma, метод, стандарт, методика`,
  ],
  [
    "laboratory",
    `laboratory, lab, laboratory name, lab name, laboratory id, lab id, laboratory no, lab no, laboratory code, lab code, test laboratory, testing laboratory, test lab, test site,
    participant, labor, prüflabor, laborname, labor nr, prüfstelle, prüfinstitut, laboratoire, labo, laboratoire d'essai, nom du laboratoire, laboratorio, laboratorio de ensayo,
    laboratorio de ensayos, laboratorio di prova, nome laboratorio, laboratório, laboratório de ensaio, laboratorium, provningslaboratorium`,
  ],
  [
    "operator",
    `operator, operator name, tester, technician, tested by, measured by, prüfer, bediener, laborant, opérateur, technicien, operador, técnico, operatore, tecnico,
    operatör, provare, utfört av`,
  ],
  [
    "date",
    `date, test date, testing date, date of test, measurement date, datum, prüfdatum, messdatum, date d'essai, date de l'essai, date de mesure, fecha, fecha de ensayo, fecha del ensayo,
    data, data di prova, data della prova, data do ensaio, data de ensaio, provdatum, provningsdatum, mätdatum`,
  ],
  [
    "batch",
    `batch, batch no, batch number, batch id, lot, lot no, lot number, charge, chargennummer, charge nr, lote, lotto, partita, n de lot, sats, satsnummer`,
  ],
  [
    "not used",
    `point, point no, point number, no, nr, n, number, index, messpunkt, mess pkt, punkt, lfd nr, datenpunkt, datenpunkt nr, data point, record, row, zeile, cycle,
    cycles, zyklus, segment, segment no, step, step no, schritt, section, status, state, comment, comments, remark, remarks, bemerkung, bemerkungen, kommentar, remarque,
    commentaire, observación, observaciones, nota, note, notes, osservazioni, observação,
    force, kraft, fuerza, forza, força, static force, dynamic force, statische kraft, dynamische kraft, force statique, force dynamique, axial force, normal force, preload, vorkraft, vorlast,
    static displacement, length, länge, longueur, longitud, lunghezza, gap, spalt, entrefer, stress, spannung, contrainte,
    tensión, sforzo, tensão, schubspannung, shear stress, stress amplitude, static stress, dynamic stress, torque, drehmoment, couple, par, coppia, momento torcente, binário, static strain, pre strain, prestrain, vordehnung, statische dehnung, mean strain, mitteldehnung,
    précontrainte, prédéformation, viscosity, complex viscosity, viskosität, komplexe viskosität, viscosité, viscosidad, viscosità, viscosidade, dynamic viscosity, stiffness,
    steifigkeit, dynamic stiffness, storage stiffness, loss stiffness, raideur, rigidez, rigidezza, thickness, dicke, épaisseur, espesor, spessore, espessura, width, breite, largeur, mass, masse, humidity, feuchte, luftfeuchte, heating rate, heizrate, mean, average, mittelwert, median, medianwert, moyenne, médiane, media, mediana, média, std, stdev, sd, standard deviation, standardabweichung, écart type, desviación estándar, deviazione standard, desvio padrão, variation coefficient, run, phr,
    filler, carbon black, silica, plateau modulus, rubbery modulus, shift factor, power loss, energy loss, dissipated energy, velocity, speed, geschwindigkeit, pendulum, siła, síla, сила, naprężenie, napětí, напряжение, tjocklek, grubość, tloušťka, толщина, tryb, uwagi, poznámka, примечание, anmärkning, kraft amplitud`,
  ],
];

/** Words of a term, joined by single blanks, to what it means. */
export const quantityOfTerm = new Map<string, Quantity>();
/** Count of words of the longest term. */
export let longestTerm = 1;

for (const [quantity, list] of [...terms, ...propertyTerms]) {
  for (const term of list.split(",")) {
    const words = wordsOf(term);
    longestTerm = Math.max(longestTerm, words.length);
    const key = words.join(" ");
    if (key !== "" && !quantityOfTerm.has(key)) quantityOfTerm.set(key, quantity);
  }
}

const termWords = new Set([...quantityOfTerm.keys()].flatMap((term) => term.split(" ")));

/** Whether a word, folded and without accents, stands in some term of the trade. */
export function isTermWord(word: string): boolean {
  return word.length >= 4 && termWords.has(word);
}

/** Words that may stand in a header beside a term without changing what it means. */
export const neutralWords = new Set(
  wordsOf(
    `of the a in at for as and der die das des dem im bei in von de del della dello di du des le la les l' d' el los las il lo do da dos das em
    en à au avec mean avg average measured meas sample actual corrected corr dynamic dyn mechanical log lg lin
    oscillatory amplitude value values data raw column before unaged fresh original ageing aging act actually mean corr smp spl specimen young's shear tensile tension flexural bending compression torsion
    test probe probenwert messwert wert valor valeur valore misurato medido gemessen mesuré ist
    channel sensor ch`,
  ),
);
