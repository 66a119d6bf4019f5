"""Species, programmes, and where eggs are from, by the words that stand in tables.

Words of other languages are from memory, written as `grid.bare_words` leaves them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from hatchbook.exchange.past_seasons.grid import bare_words
from hatchbook.figures.offered import offered_species
from hatchbook.journal import Journal
from hatchbook.trade.codes import EggSource
from hatchbook.trade.programmes import load_species

_SPECIES = {
    "hen": (
        "chicken,chickens,chook,chooks,fowl,domestic fowl,large fowl,huhn,huhner,huehner,henne,hennen,poule,poules,"
        "gallina,gallinas,galinha,galinhas,galline,kip,kippen,hona,hons,hone,hons,hoener,hons,kura,kury,slepice,"
        "kana,kanat,pollo,pollos"
    ),
    "bantam": "bantams,zwerghuhn,zwerghuhner,zwerghuehner,poule naine,krielkip,kriel,dvarghona",
    "turkey": "turkeys,pute,puten,truthahn,truthuhn,dinde,dindes,pavo,pavos,peru,perus,tacchino,kalkoen,kalkun",
    "duck": "ducks,ente,enten,canard,canards,cane,pato,patos,anatra,anatre,eend,eenden,anka,ankor,kaczka,kachna",
    "muscovy": (
        "muscovy,muscovies,muscovy ducks,barbary duck,warzenente,warzenenten,flugente,canard de barbarie,"
        "pato mudo,anatra muta,muskuseend"
    ),
    "goose": "geese,gans,ganse,gaense,oie,oies,ganso,gansos,oca,oche,ganzen,gas,gass,gaes,gaess,husa,ges",
    "guinea_fowl": (
        "guinea,guineas,guinea hen,guinea fowls,guineafowl,perlhuhn,perlhuhner,perlhuehner,pintade,pintades,"
        "pintada,galinha d angola,faraona,parelhoen"
    ),
    "coturnix": (
        "coturnix,coturnix quails,japanese quail,japanese quails,japanische wachtel,legewachtel,wachtel,wachteln,"
        "caille japonaise,codorniz japonesa,quaglia giapponese,japanse kwartel"
    ),
    "bobwhite": "bobwhite,bobwhites,bobwhite quails,northern bobwhite,virginiawachtel,colin de virginie",
    "pheasant": "pheasants,fasan,fasane,faisan,faisans,faisanes,faisao,fagiano,fagiani,fazant,fazanten,bazant",
    "chukar": "chukars,chukar partridge,chukarhuhn,perdrix choukar",
    "peafowl": "peacock,peacocks,peahen,pfau,pfauen,paon,paons,pavo real,pavao,pavone,pauw",
    "pigeon": "pigeons,dove,taube,tauben,paloma,pombo,piccione,duif,duiven,duva",
    "ostrich": "ostriches,strauss,straus,autruche,avestruz,struzzo,struisvogel",
    "emu": "emus",
    "rhea": "rheas,nandu,nandou",
    "parrot": "parrots,papagei,papageien,perroquet,loro,papagaio,pappagallo,papegaai",
}

_SOURCES = {
    EggSource.OWN: (
        "own,own eggs,mine,ours,home,homebred,home bred,house,self,eigen,eigene,eigene eier,selbst,maison,propre,"
        "propios,propias,proprias,proprie,egen,egna,egne,wlasne,vlastni,omat"
    ),
    EggSource.SHIPPED: (
        "shipped,shipped eggs,post,posted,by post,mail,mailed,bought,bought in,purchased,sent,travelled,versand,"
        "verschickt,zukauf,zugekauft,gekauft,post eier,achetes,envoyes,comprados,comprati,spediti,gekocht,"
        "verzonden,kopta,kjopt,koebt,kobt,kupione,koupena,ostettu"
    ),
}
_YES = frozenset(["yes", "y", "x", "true", "1", "ja", "j", "oui", "si", "sim", "tak", "ano", "kylla"])
_NO = frozenset(["no", "n", "false", "0", "nein", "non", "nao", "nee", "nej", "nei", "nie", "ne", "ei"])


@dataclass(frozen=True)
class KnownWords:
    """Codes by the words that mean them, these as `grid.bare_words` leaves them."""

    species: Mapping[str, str] = field(default_factory=dict)
    programmes: Mapping[str, str] = field(default_factory=dict)

    def species_of(self, text: str) -> str | None:
        """The code of the species that a text names, also in the plural; None for one that is not known."""
        bare = bare_words(text)
        return self.species.get(bare) or self.species.get(bare.removesuffix("s")) or None

    def programme_of(self, text: str) -> str | None:
        """The code of the programme that a text names by title or code."""
        return self.programmes.get(bare_words(text))


def known_words(journal: Journal | None = None, spoken: Mapping[str, str] | None = None) -> KnownWords:
    """The words of the trade, of the breeder's own programmes and batches, and of their language.

    Args:
        journal: whose own species and programmes count.
        spoken: code of each species, by its word in the breeder's language.
    """
    species: dict[str, str] = {}
    programmes: dict[str, str] = {}
    for one in load_species():
        for word in (one.code, one.title, *_SPECIES.get(one.code, "").split(",")):
            species.setdefault(bare_words(word), one.code)
        for programme in one.programmes:
            programmes |= {
                bare_words(programme.code): programme.code,
                bare_words(programme.title): programme.code,
            }
    if journal is not None:
        codes = [offered.code for offered in offered_species(journal)]
        codes += [line.species for line in journal.batches.lines()]
        codes += [past.species for past in journal.past_batches.all()]
        for code in codes:
            species.setdefault(bare_words(code.replace("_", " ")), code)
        for own in journal.programmes.all():
            programmes |= {bare_words(own.code): own.code, bare_words(own.title): own.code}
    for word, code in (spoken or {}).items():
        species[bare_words(word)] = code
    species.pop("", None)
    programmes.pop("", None)
    return KnownWords(species, programmes)


def source_of(text: str, *, asked_shipped: bool) -> EggSource | None:
    """Where eggs are from; yes and no count where the column asks whether they were ``shipped``."""
    bare = bare_words(text)
    if asked_shipped and bare in _YES | _NO:
        return EggSource.SHIPPED if bare in _YES else EggSource.OWN
    return next((source for source, words in _SOURCES.items() if bare in words.split(",")), None)


def asks_shipped(name: str) -> bool:
    """Whether a column's name is a word for eggs from elsewhere, so that its cells say yes or no."""
    return bare_words(name) in _SOURCES[EggSource.SHIPPED].split(",")
