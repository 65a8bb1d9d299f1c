"""Words that begin sentences, and ordinary words that are also names, in the languages of the pages.

They are asked about only where they are whole names with a capital.
"""

ENGLISH = frozenset(
    """a about after again all also always an and april are art as ask asks at august away back be
    because been before ben best big bill both brave but buy by call calls can chance chase come
    comes could dad dale day de december del den der do does done dos down drew drive each early end
    even every everyone example february few find first for friday from game games gene gives glen
    go goes good got grace grant great had hand hands hard has have he head help helps her here high
    him his hope how hunter i ice if in is it its jack january joy july june just keep keeps kind
    know las last late learn let like line long look looks los made make makes many march mark may
    me miles mom monday more most mother much mum my never new next nice no not november now october
    of off often on once one only or other our out over page pass passes passing pat play played
    player players playing plays practice practices puck ready rest rich rob rose run said san
    saturday save see sees september she short shot shots should shows since skate skater skates
    skating skill skills sky so some soon start starts stay stays still stop stops strong such
    sunday support take takes talk team tell than thank thanks that the their them then there these
    they thing this those thursday time to today together too train try trying tuesday turn turns
    under until up us use van very von walk wants was watch we wednesday well were what when where
    which while who why will win with wonderful work worked working works would year yes you young
    your""".split()
)
# without accents, as names are compared
FRENCH = frozenset(
    """a abord ainsi alors aout apres arret arrets assez au aucun aucune aujourd aussi autour autre
    autres aux avance avant avec avoir avril banc bande beau beaucoup belle bien bientot blanc bon
    bonne bons but buts ca car ce ceci cela celle celui ces cet cette chaque chez claire clair coin
    comme comment continue continuez couloir court dans de debut decembre dehors depart departs
    depuis des desormais deux dimanche donc du elle en encore ensemble ensuite entre equipe est et
    ete etre exercice fait faire faites fete fevrier fin florence force fort france glace grace
    grand gros habilete hier hiver il ils iris jamais janvier je jeudi jeux joie jouer joueur
    joueurs jour jours juillet juin juste la le les leur leurs lors lumiere lundi lune ma maintenant
    mais maison mal mardi mars marche meme merci mercredi mes mieux moi moins mois mon mur ne neige
    noel nos notre nous nouveau novembre octobre olive on ont ou oui palette papa par parfois parlez
    parmi partout pas passe passes patin patinage patine patins pendant peu peut pierre place
    plaisir plus plutot point pour pourquoi pourtant pratique pres presque prochain prochaine puis
    quand que quel quelle quelques qui quoi regard regardez reine rien rond rondelle rose sa saison
    samedi sans se seance seances semaine septembre ses si soir soleil son sont sous souvent sur
    surtout tard te temps tir tirs toi tot toujours tour tous tout toute toutes travail travaille
    travailler tres trois trop un une vendredi vers victoire vite voici voila voir vos votre vous
    voyez vrai vraiment""".split()
)
