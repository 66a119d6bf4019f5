"""How the columns of such a table are called, in the larger European languages.

The words are from memory, written as `grid.bare_words` leaves them: small letters, no accents. A name that holds
several of them goes by the longest. Shares are no counts: a column of percentages is never taken for one.
"""

from __future__ import annotations

import re

from hatchbook.exchange.past_seasons.fields import PastField as F

_NAMES: dict[F, str] = {
    F.LABEL: (
        "batch,batch no,batch nr,batch number,batch id,batch label,label,no,nr,n,number,#,id,setting no,hatch no,"
        "hatch number,batch #,brut nr,brutnummer,brut,partie,lot,lote,covata,incubada,couvee,lage,kull,kull nr,"
        "broedsel,broed nr,nummer,numero,numer,legg,kuld,partia"
    ),
    F.NAME: "name,batch name,title,bezeichnung,titel,nom,nombre,nome,naam,namn,navn,nazwa,nazev,nimi",
    F.SEASON: (
        "season,year,hatch year,breeding year,saison,jahr,zuchtjahr,annee,temporada,ano,stagione,anno,seizoen,jaar,"
        "sasong,ar,sesong,aar,saeson,rok,sezon,sezona,vuosi,kausi"
    ),
    F.SET_ON: (
        "date set,set on,set date,date of setting,setting date,set,date,day set,put in,start,started,start date,"
        "date in,into incubator,datum,einlage,einlagedatum,einlegedatum,eingelegt,eingelegt am,brutbeginn,"
        "date de mise,mise en incubation,date mise en couveuse,fecha,fecha de carga,fecha de incubacion,data,"
        "data de incubacao,data di inserimento,inleg,inlegdatum,ingelegd,datum inleg,inlagd,inlagt,lagt i,dato,"
        "data nakladu,data wlozenia,datum nasazeni,paivamaara,pvm"
    ),
    F.SPECIES: (
        "species,bird,birds,kind of bird,kind,poultry,art,tierart,geflugelart,gefluegelart,espece,especie,specie,"
        "soort,diersoort,djurslag,dyreart,gatunek,druh,laji"
    ),
    F.BREED: "breed,variety,strain,line,rasse,farbenschlag,race,raza,raca,razza,ras,rasa,plemeno,rotu",
    F.PEN: (
        "pen,breeding pen,flock,coop,run,group,breeding group,stamm,zuchtstamm,stall,gehege,voliere,parquet,enclos,"
        "corral,toom,hok,kooi,gruppo,recinto,flok,hejno,stado"
    ),
    F.MACHINE: (
        "machine,incubator,setter,brutapparat,brutmaschine,brutschrank,brueter,bruter,couveuse,incubateur,"
        "incubadora,incubatrice,broedmachine,rugemaskine,rugemaskin,klackmaskin,inkubator,inkubaattori,lihen,liahen,"
        "hautomakone"
    ),
    F.PROGRAMME: "programme,program,brutprogramm,programm,programma,programa",
    F.SOURCE: (
        "source,origin,own or shipped,own shipped,shipped,shipped eggs,posted,bought,bought in,herkunft,zukauf,"
        "versand,bruteier von,origine,origen,origem,provenienza,herkomst,ursprung,oprindelse,pochodzenie,puvod"
    ),
    F.EGGS_SET: (
        "eggs set,set,set eggs,eggs,egg,no of eggs,nr of eggs,number of eggs,number set,no set,total eggs,"
        "total set,eggs in,eggs put in,qty,quantity,count,eier,eingelegt,eingelegte eier,eier eingelegt,eizahl,"
        "anzahl,anzahl eier,oeufs,nombre d oeufs,nb oeufs,oeufs mis,mis en incubation,huevos,huevos cargados,"
        "huevos puestos,ovos,ovos incubados,uova,uova incubate,eieren,aantal,aantal eieren,ingelegd,agg,antal agg,"
        "aeg,antal aeg,antall egg,jaja,jajka,liczba jaj,vejce,vajec,pocet vajec,munia,munat,munien maara"
    ),
    F.FERTILE: (
        "fertile,fertile eggs,fertiles,no fertile,number fertile,fertilised,fertilized,viable,befruchtet,"
        "befruchtete eier,eier befruchtet,fecondes,feconde,oeufs fecondes,fecundados,ferteis,fertili,bevrucht,"
        "bevruchte eieren,befruktade,befruktede,befruktet,zaplodnione,oplozena,oplozenych,hedelmallisia"
    ),
    F.CLEAR: (
        "clear,clears,clear eggs,infertile,infertile eggs,infertiles,unfertile,unfertilised,unfertilized,"
        "not fertile,non fertile,klar,klare eier,unbefruchtet,unbefruchtete eier,clair,clairs,oeufs clairs,"
        "infecundos,claros,chiare,onbevrucht,schier,schierei,obefruktade,ubefruktede,ubefruktet,niezaplodnione,"
        "neoplozena,ciste,hedelmattomia"
    ),
    F.INFERTILE_OPENED: (
        "infertile opened,opened infertile,clear opened,clears opened,opened and infertile,found infertile,"
        "infertile at break out,infertile on break out,break out infertile,breakout infertile,true infertile,"
        "geoffnet unbefruchtet"
    ),
    F.EARLY_DEAD: (
        "early dead,early,early deads,dead early,died early,early death,early deaths,early embryonic death,"
        "early mortality,blood ring,blood rings,fruh,fruhtot,frueh,fruehtot,fruh abgestorben,frueh abgestorben,"
        "morts precoces,mort precoce,mortalite precoce,precoce,muertos tempranos,mortos precoces,morti precoci,"
        "vroeg,vroeg dood,vroeg afgestorven,tidigt doda,tidligt dode,tidlig dode,wczesnie zamarle,rane odumrele"
    ),
    F.MID_DEAD: (
        "mid dead,mid,mid deads,middle dead,dead mid,dead middle,died mid,mid death,mid deaths,mid term dead,"
        "mid mortality,middle,mitteltot,mittel abgestorben,morts intermediaires,muertos medios,mortos medios,"
        "morti intermedi,midden dood"
    ),
    F.LATE_DEAD: (
        "late dead,late,late deads,dead late,died late,late death,late deaths,late mortality,dead in shell,"
        "died in shell,dis,dead in egg,full term dead,spat,spattot,spaet,spaettot,spat abgestorben,"
        "spaet abgestorben,steckengeblieben,morts tardifs,mort tardive,mortalite tardive,morts en coquille,"
        "muertos tardios,mortos tardios,morti tardivi,laat,laat dood,dood in dop,sent doda,sent dode,"
        "pozno zamarle,pozdne odumrele"
    ),
    F.PIPPED_DEAD: (
        "pipped dead,pipped,pips,pipped not hatched,pipped and died,pipped died,pipped but died,dead in pip,"
        "died in pip,dead pips,pip dead,died pipping,angepickt,angepickt tot,beches,beches morts,picados,bicados,"
        "beccati,aangepikt"
    ),
    F.HATCHED: (
        "hatched,hatch,hatched out,no hatched,number hatched,hatchlings,chicks,chicks hatched,chicks out,"
        "live chicks,healthy chicks,ducklings,goslings,poults,keets,geschlupft,geschluepft,schlupf,kuken,kueken,"
        "eclos,eclosions,poussins,nacidos,pollitos,pollos nacidos,eclosionados,nascidos,pintos,pintainhos,schiuse,"
        "schiusi,nati,pulcini,uitgekomen,kuikens,klackta,kycklingar,klekket,klaekket,kyllinger,wyklute,wykluto,"
        "kurczeta,piskleta,vylihlo,vylihnuto,vylihlych,kuoriutui,kuoriutuneet"
    ),
    F.CULLED: "culled,culls,cull,culled chicks,chicks culled,gemerzt,ausgemerzt,reformes,descartados,scartati",
    F.ROTTEN: (
        "rotten,rotten eggs,rots,contaminated,exploded,exploders,bangers,faul,faule,faule eier,pourris,podridos,"
        "podres,marce,marci,rot,rotte eieren,rottna,radne,zepsute,zkazena"
    ),
    F.TAKEN_OUT: (
        "taken out,removed,broken,cracked,broken or removed,entfernt,herausgenommen,zerbrochen,kaputt,retires,"
        "casses,retirados,rotos,partidos,rimosse,rotte,verwijderd,gebroken,fjernet,utplockade,stluczone,rozbita"
    ),
    F.NOTE: (
        "note,notes,remark,remarks,comment,comments,observations,bemerkung,bemerkungen,notiz,notizen,anmerkung,"
        "anmerkungen,remarque,remarques,commentaire,nota,notas,observaciones,observacoes,obs,annotazioni,opmerking,"
        "opmerkingen,anmarkning,anmarkningar,merknad,bemaerkning,uwagi,poznamka,poznamky,huomautus,huomautukset"
    ),
}

WORDS: dict[F, frozenset[str]] = {field: frozenset(names.split(",")) for field, names in _NAMES.items()}
"""The names of the columns, by what they hold."""

SHARES = re.compile(
    r"%|\b(rate|rates|percent|percentage|pct|per cent|prozent|quote|rata|taux|tasa|taxa|tasso|procent|ratio|share|"
    r"hatchability|fertility|befruchtungsrate|schlupfrate|average|avg|mean|date hatched|hatch date|hatched on|"
    r"hatch day|due|due date|schlupftag|schlupfdatum|schlupftermin|weight|gewicht)\b"
)
"""Names of columns that hold no count of eggs, and no day of setting, though words of it stand in them."""

_TOTALS = (
    "total|totals|grand total|sub total|subtotal|sum|sums|all|overall|mean|average|avg|median|summe|gesamt|"
    "insgesamt|durchschnitt|mittel|mittelwert|schnitt|somme|moyenne|suma|promedio|soma|media|somma|totale|totali|"
    "totaal|som|gemiddelde|summa|medel|snitt|genomsnitt|gennemsnit|i alt|totalt|razem|srednia|celkem|prumer|"
    "yhteensa|keskiarvo|ø|σ|∑"
)
TOTAL = re.compile(rf"(?:{_TOTALS})(?:\s+(?:\d{{2,4}}|of\b.*|for\b.*|eggs|per\b.*))*")
"""What the first words of a line of sums or means are."""
