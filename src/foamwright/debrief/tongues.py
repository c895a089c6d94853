"""Column names in other tongues: plain dictionary words, by the English word they stand for.

German, French, Spanish, Italian, Portuguese, Dutch, Polish and Czech. Accents are folded, so that a
name counts with them and without.
"""

import re
import unicodedata
from collections.abc import Mapping

DICTIONARY: Mapping[str, str] = {
    "time": "zeit uhrzeit flugzeit temps heure tiempo hora tempo ora tijd czas godzina čas",
    "date": "datum fecha",
    "latitude": "breite breitengrad latitud latitudine breedte breedtegraad szerokość šířka",
    "longitude": "länge längengrad longitud longitudine lengte lengtegraad długość délka",
    "height": "höhe hauteur altura altitud altezza altitudine quota hoogte wysokość výška",
    "speed": "geschwindigkeit fahrt vitesse velocidad velocità velocidade snelheid prędkość "
    "rychlost",
    "ground": "grund boden sol suelo suolo solo grond ziemia ziemi země zemi",
    "air": "luft eigen aire aria lucht powietrze powietrza powietrzna vzduch vzdušná",
    "vertical": "vertikal vertikale verticale verticaal pionowa pionowy vertikální svislá",
    "climb": "steigen steig steigrate montée ascenso subida salita stijgen stijging wznoszenie "
    "stoupání",
    "sink": "sinken sinkrate descente descenso discesa descida daling dalen opadanie klesání",
    "north": "nord norden norte noord północ sever",
    "east": "osten leste oost wschód východ",
    "course": "kurs rumbo rumo rotta koers kurz",
    "heading": "steuerkurs gier gieren gierwinkel lacet guiñada imbardata prua guinada odchylenie "
    "zatáčení",
    "roll": "rollwinkel querlage roulis alabeo rollio rolagem rolamento rolhoek przechylenie "
    "náklon klonění",
    "pitch": "nick nicken nickwinkel tangage cabeceo beccheggio arfagem stampen pochylenie klopení",
    "angle": "winkel ángulo angolo ângulo hoek kąt úhel",
    "rate": "drehrate drehgeschwindigkeit taux tasa tasso taxa",
    "acceleration": "beschleunigung aceleración accelerazione aceleração versnelling "
    "przyspieszenie zrychlení",
    "voltage": "spannung tension tensión voltaje tensione tensão voltagem spanning napięcie napětí",
    "current": "strom stromstärke courant intensité corriente intensidad corrente intensità "
    "stroom stroomsterkte prąd natężenie proud",
    "pack": "akku accu batería batteria bateria batterij akumulator baterie akumulátor",
    "cell": "zelle zellen zell cellule élément celda cella célula cel ogniwo ogniwa článek článku",
    "charge": "ladung carga carica lading ładunek náboj",
    "capacity": "kapazität capacité capacidad capacità capacidade capaciteit pojemność kapacita",
    "used": "verbraucht verbrauchte verbrauch entnommen consommé consommée consommation consumido "
    "consumida consumo consumato consumata verbruikt verbruikte verbruik zużyte zużyta zużycie "
    "spotřeba spotřebováno",
    "remaining": "rest verbleibend verbleibende restant restante resterend pozostało zbývá",
    "power": "leistung puissance potencia potenza potência vermogen moc výkon",
    "throttle": "gaz manette acelerador acceleratore manetta przepustnica plyn",
    "aileron": "querruder alerón alettone alettoni rolroer lotka lotki křidélko křidélka",
    "elevator": "höhenruder profondeur profundidad equilibratore profundor hoogteroer výškovka",
    "rudder": "seitenruder gouvernail timón timone leme richtingsroer směrovka",
    "rpm": "drehzahl umdrehungen régime tours revoluciones giri rotações rotação toerental obroty "
    "otáčky",
    "motor": "moteur motore silnik propeller hélice elica śmigło vrtule",
    "satellites": "satelliten satelity satélites satelliti satellieten satelitów družice družic",
    "count": "anzahl nombre número numero aantal liczba počet",
    "rssi": "signalstärke señal segnale sinal signaal sygnał signál",
    "quality": "qualität qualité calidad qualità qualidade kwaliteit jakość kvalita",
    "link": "verbindung liaison enlace collegamento ligação verbinding łącze spojení",
    "temperature": "temperatur température temperatura temperatuur teplota",
    "position": "standort posición posizione posição positie pozycja pozice",
    "accuracy": "genauigkeit précision precisión precisione precisão nauwkeurigheid dokładność "
    "přesnost",
    "horizontal": "horizontale orizzontale horizontaal pozioma vodorovná",
    "distance": "entfernung abstand distancia distanza distância afstand odległość vzdálenost",
    "wind": "vent viento vento wiatr vítr",
    "home": "heimat startplatz domicile casa thuis dom domov",
    "maximum": "maximale höchste máximo máxima massimo massima maksymalna maks nejvyšší",
    "minimum": "minimale niedrigste mínimo mínima minimo minima minimalna nejnižší",
    "wanted": "soll sollwert consigne consigna voluto desejado gewenst zadane zadana požadovaná",
    "receiver": "empfänger récepteur receptor ricevente ontvanger odbiornik przyjímač přijímač",
    "transmitter": "sender émetteur emisor trasmittente emissor zender nadajnik vysílač",
    "flight": "flug vuelo volo vlucht",
}
"""The words for each English one, as a dictionary has them."""

STROKES = str.maketrans({"ß": "ss", "ł": "l", "Ł": "L", "ø": "o", "Ø": "O", "æ": "ae", "œ": "oe"})
"""Letters that are no letter with an accent."""

UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss"})
"""How German writes them where there are none."""

ELIDED = re.compile(r"\b[dl]['\u2019](?=\w)", re.IGNORECASE)
"""`d'air`, `l'aile`: the letter is no word of the name."""

PER_UUR = re.compile(r"\bkm/u\b", re.IGNORECASE)
"""Kilometres an hour in Dutch: the u is no way up."""

RUN = re.compile(r"[^\W\d_]+")


def folded(text: str) -> str:
    """Return a text with its letters' accents taken off."""
    parts = unicodedata.normalize("NFD", text.translate(STROKES))
    bare = "".join(sign for sign in parts if not unicodedata.combining(sign))
    return unicodedata.normalize("NFC", bare)


def spellings(word: str) -> tuple[str, ...]:
    """Return how a word of the dictionary may be written without accents."""
    return tuple(dict.fromkeys((folded(word), folded(word.translate(UMLAUTS)))))


ACCENTED: Mapping[str, str] = {
    word: english
    for english, words in DICTIONARY.items()
    for word in words.split()
    if folded(word) != word
}
"""The English word for one that is written with its accents."""

FOREIGN: Mapping[str, str] = {
    spelled: english
    for english, words in reversed(tuple(DICTIONARY.items()))
    for word in words.split()
    for spelled in spellings(word)
}
"""The English word for one without accents; what comes first in the dictionary goes first."""


def plain_letters(name: str) -> str:
    """Return a column name in plain letters, the words whose accents tell them apart in English.

    `Čas` is a time, `CAS` an airspeed.
    """

    def told(run: re.Match[str]) -> str:
        word = unicodedata.normalize("NFC", run[0])
        english = ACCENTED.get(word.lower())
        return f" {english} " if english else folded(word)

    name = PER_UUR.sub("km/h", ELIDED.sub("", unicodedata.normalize("NFC", name)))
    return name if name.isascii() else RUN.sub(told, name)
