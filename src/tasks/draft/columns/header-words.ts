// Words that the trade writes over columns, in small letters without accents, in English, German, French, Spanish, Portuguese, Italian,
// Dutch and Polish. Common practice, no published source: a match is a guess that the draft says.

/** What a column may hold: our columns, and parts or kinds that are not settled by their header. */
export type Quantity =
  | 'point_id'
  | 'code'
  | 'latitude_deg'
  | 'longitude_deg'
  | 'ellipsoidal_height_m'
  | 'orthometric_height_m'
  | 'height'
  | 'easting'
  | 'northing'
  | 'westing'
  | 'southing'
  | 'x'
  | 'y'
  | 'z'
  | 'moment'
  | 'date'
  | 'clock'
  | 'gps_week'
  | 'gps_seconds'
  | 'solution'
  | 'correction_age_s'
  | 'satellites_used'
  | 'pdop'
  | 'hdop'
  | 'vdop'
  | 'sigma_east_m'
  | 'sigma_north_m'
  | 'sigma_up_m'
  | 'sigma_horizontal_m'
  | 'correlation_en'
  | 'base_id'
  | 'pole_length_m'
  | 'tilt_deg'
  | 'tilt_azimuth_deg'
  | 'epoch_count'
  | 'note'
  | 'latitude_letter'
  | 'longitude_letter';

const list = (text: string): readonly string[] => text.split('|').map((phrase) => phrase.trim());

/** Phrases by what they name. */
export const HEADER_PHRASES: Readonly<Record<Quantity, readonly string[]>> = {
  point_id: list(
    'point|point id|point name|point no|point nr|point number|pt|pt id|pt no|pid|id|name|number|no|nr|station|stn|mark|punkt|punktnummer|punkt nr|punktnr|pktnr|pkt|nummer|numero|numero de point|nom|nom du point|matricule|punto|nombre|numero de punto|num punto|ponto|nome do ponto|numero do ponto|nome|nome punto|numero punto|punt|puntnummer|puntnr|naam|nr punktu|numer|numer punktu|nazwa|nazwa punktu',
  ),
  code: list('code|feature code|feature|codigo|codice|kode|kod|objektcode|objectcode|code objet|punktcode'),
  latitude_deg: list(
    'latitude|lat|latitude wgs 84|breite|geogr breite|geographische breite|breitengrad|latitud|latitudine|breedte|breedtegraad|szerokosc|szerokosc geograficzna|szer|phi',
  ),
  longitude_deg: list(
    'longitude|lon|long|lng|longitude wgs 84|lange|laenge|geogr lange|geographische lange|langengrad|laengengrad|longitud|longitudine|lengte|lengtegraad|dlugosc|dlugosc geograficzna|dlug|lambda',
  ),
  ellipsoidal_height_m: list(
    'ellipsoidal height|ellipsoid height|height ellipsoidal|height above ellipsoid|ell height|ellip height|h ell|hell|hae|ellipsoidische hohe|ellipsoidhohe|ell hohe|hohe ell|hohe ellipsoidisch|hauteur ellipsoidale|hauteur ellipsoide|h ellipsoidale|altura elipsoidal|altura elipsoidica|altitude elipsoidal|h elipsoidal|altezza ellissoidica|quota ellissoidica|altezza ellissoidale|h ellissoidica|ellipsoidische hoogte|wysokosc elipsoidalna|h elipsoidalna',
  ),
  orthometric_height_m: list(
    'orthometric height|ortho height|height orthometric|height above geoid|height above msl|msl|msl height|h msl|orthometrische hohe|normalhohe|gebrauchshohe|nhn hohe|altitude orthometrique|altitude normale|altura ortometrica|cota ortometrica|altitude ortometrica|altezza ortometrica|quota ortometrica|quota slm|orthometrische hoogte|nap hoogte|wysokosc ortometryczna|wysokosc normalna',
  ),
  height: list(
    'height|h|elevation|elev|ele|alt|altitude|level|hohe|hoehe|hauteur|altura|cota|elevacion|altitud|altezza|quota|hoogte|wysokosc|wys|rzedna',
  ),
  easting: list(
    'easting|east|e|eastings|ostwert|rechtswert|rechts|ost|est|coordonnee est|este|coordenada este|leste|coordenada leste|coordinata est|oost|wschod|wschodnia',
  ),
  northing: list(
    'northing|north|n|northings|nordwert|hochwert|hoch|nord|coordonnee nord|norte|coordenada norte|coordinata nord|noord|polnoc|polnocna',
  ),
  westing: list('westing|west'),
  southing: list('southing|south'),
  x: list('x|x coordinate|ecef x|x ecef|geocentric x|x coord'),
  y: list('y|y coordinate|ecef y|y ecef|geocentric y|y coord'),
  z: list('z|z coordinate|ecef z|z ecef|geocentric z|z coord'),
  moment: list(
    'time|epoch|datetime|date time|date and time|timestamp|time stamp|utc|utc time|time utc|utc date time|gps time|time gps|gpst|local time|zeit|zeitpunkt|zeitstempel|datum zeit|datum uhrzeit|utc zeit|gps zeit|heure|date heure|date et heure|horodatage|heure utc|heure gps|fecha hora|fecha y hora|hora|hora utc|hora gps|marca de tiempo|data hora|data e hora|data ora|data e ora|ora|ora utc|ora gps|tijd|tijdstip|datum tijd|datum en tijd|tijd utc|czas|czas utc|czas gps|data czas|data i czas',
  ),
  date: list('date|utc date|date utc|gps date|datum|fecha|data|tag|jour|dia|dag|dzien'),
  clock: list(
    'time|utc time|time utc|gps time|local time|uhrzeit|zeit|utc zeit|heure|heure utc|hora|hora utc|ora|ora utc|tijd|czas|czas utc',
  ),
  gps_week: list('gps week|week|gps woche|semaine gps|semana gps|settimana gps|tydzien gps'),
  gps_seconds: list(
    'gps seconds|seconds of week|tow|time of week|gps tow|gps second|sow|sekunden der woche|secondes de la semaine|segundos de la semana|segundos gps',
  ),
  solution: list(
    'solution|solution type|solution status|quality|fix|fix type|fix quality|fix status|status|q|gnss status|rtk status|losung|loesung|losungstyp|losungsart|qualitat|qualitaet|statut|qualite|type de solution|etat|solucion|tipo de solucion|calidad|estado|soluzione|tipo soluzione|qualita|stato|solucao|tipo de solucao|qualidade|oplossing|oplossingstype|kwaliteit|rozwiazanie|typ rozwiazania|jakosc',
  ),
  correction_age_s: list(
    'age|correction age|age of corrections|age of correction|diff age|differential age|corr age|korrekturalter|alter|alter der korrektur|age correction|age des corrections|edad|edad correccion|edad de la correccion|edad correcciones|idade|idade da correcao|eta correzione|eta correzioni|leeftijd correctie|ouderdom|wiek|wiek poprawek|wiek poprawki',
  ),
  satellites_used: list(
    'satellites|satellites used|sats|sat|sv|svs|nsat|nsats|num sats|num sat|no sats|number of satellites|satelliten|anzahl satelliten|anz sat|sat anzahl|nb satellites|nb sat|nombre de satellites|satelites|num satelites|numero de satelites|n satelites|satelliti|numero satelliti|n satelliti|satellieten|aantal satellieten|satelity|liczba satelitow|l satelitow',
  ),
  pdop: list('pdop'),
  hdop: list('hdop'),
  vdop: list('vdop'),
  sigma_east_m: list(
    'sigma e|sigma east|std east|std e|sd e|sd east|se|rms e|rms east|sigma easting|stdabw ost|standardabweichung ost|sigma ost|ecart type est|ecart type e|sigma est|desviacion este|desv este|sigma este|desvio leste|dev std est|scarto est|sigma oost|blad e|sigma lon|std lon',
  ),
  sigma_north_m: list(
    'sigma n|sigma north|std north|std n|sd n|sd north|sn|rms n|rms north|sigma northing|stdabw nord|standardabweichung nord|sigma nord|ecart type nord|ecart type n|desviacion norte|desv norte|sigma norte|desvio norte|dev std nord|scarto nord|sigma noord|blad n|sigma lat|std lat',
  ),
  sigma_up_m: list(
    'sigma u|sigma up|sigma h|sigma z|sigma height|std up|std u|std h|std z|sd u|sd up|sd h|su|vrms|v rms|rms v|vertical rms|vertical precision|vertical accuracy|precision v|v precision|stdabw hohe|standardabweichung hohe|sigma hohe|hohengenauigkeit|genauigkeit hohe|ecart type h|precision verticale|precision alti|desviacion altura|precision vertical|precisao vertical|desvio altura|precisione verticale|scarto quota|precisie v|hoogteprecisie|sigma hoogte|blad h|dokladnosc pionowa|dokladnosc h',
  ),
  sigma_horizontal_m: list(
    'hrms|h rms|rms h|horizontal rms|horizontal precision|horizontal accuracy|precision h|h precision|precision hz|lagegenauigkeit|genauigkeit lage|lagefehler|precision horizontale|precision plani|precision horizontal|precisao horizontal|precisione orizzontale|precisie h|horizontale precisie|dokladnosc pozioma|dokladnosc xy|drms',
  ),
  correlation_en: list('correlation en|corr en|correlation|rho en'),
  base_id: list(
    'base|base id|base station|base name|reference|reference station|ref|ref station|ref id|station id|basis|basisstation|referenz|referenzstation|station de base|pivot|station de reference|estacion base|id base|estacion de referencia|estacao base|stazione base|stazione di riferimento|basisstation|referentiestation|baza|stacja bazowa|stacja referencyjna',
  ),
  pole_length_m: list(
    'pole|pole height|pole length|rod|rod height|rod length|antenna height|ant height|stab|stabhohe|stablange|lotstab|lotstablange|antennenhohe|reflektorhohe|canne|hauteur canne|hauteur de canne|hauteur antenne|jalon|altura jalon|altura de jalon|altura baston|altura antena|altura de antena|bastao|altura bastao|altura do bastao|altura da antena|palina|altezza palina|altezza antenna|stok|stokhoogte|stoklengte|antennehoogte|tyczka|wysokosc tyczki|wysokosc anteny',
  ),
  tilt_deg: list(
    'tilt|tilt angle|inclination|neigung|neigungswinkel|inclinaison|inclinacion|inclinazione|inclinacao|helling|scheefstand|pochylenie|nachylenie|wychylenie',
  ),
  tilt_azimuth_deg: list(
    'tilt azimuth|tilt direction|tilt az|azimuth|neigungsrichtung|neigungsazimut|azimut|azimut inclinaison|direction inclinaison|azimut inclinacion|direccion inclinacion|azimut inclinazione|direzione inclinazione|azimute|azimute inclinacao|hellingsrichting|azymut|azymut pochylenia|kierunek pochylenia',
  ),
  epoch_count: list(
    'epochs|epoch count|observations|obs|number of epochs|epochen|anzahl epochen|messungen|nb epoques|epoques|epocas|num epocas|observaciones|epoche|numero epoche|epochs averaged|waarnemingen|epoki|liczba epok',
  ),
  note: list(
    'note|notes|remark|remarks|comment|comments|description|bemerkung|anmerkung|kommentar|remarque|commentaire|nota|notas|comentario|observacoes|commento|descrizione|opmerking|omschrijving|uwagi|opis',
  ),
  latitude_letter: list('n s|ns|lat dir|lat hem|latitude hemisphere|lat letter|ns indicator'),
  longitude_letter: list('e w|ew|lon dir|long dir|lon hem|longitude hemisphere|lon letter|ew indicator'),
};

/** How well a header names a quantity: 2 its whole phrase, 1 a phrase of two words or a long one within it, 0 not at all. */
export function matchScore(phrase: string, quantity: Quantity): number {
  const phrases = HEADER_PHRASES[quantity];
  if (phrases.includes(phrase)) return 2;
  const padded = ` ${phrase} `;
  return phrases.some((known) => known.length >= LONG_PHRASE && padded.includes(` ${known} `)) ? 1 : 0;
}

/** Letters of a phrase that may stand within a longer header; shorter ones would be found in too many. */
const LONG_PHRASE = 5;
