"""Words that begin sentences, and ordinary words that are also names, in the languages of the pages.

They are asked about only where they are whole names with a capital, and not where they cannot be one.
"""

ENGLISH = frozenset(
    """a about after again all ally also always an and april are art as ask asks at august away
    back bald be because been before best big bill bird black blade blank blaze blue blunt board
    boards bob bold bond both brave bright broad brown buddy bully burn but buy by call calls
    can carry cash chance chase chasing chilly chip chuck clay clear cliff close coach come
    comes cook could crawl cross dad daddy dale dash day de december del den der dick do does
    done dos down drew drive each early east end even every everyone example faith fast february
    few field finally find fine finish firm first flower fold for forest free friday from fully
    funny game games gap gene gentle gives glass glen glory go goes gold golden good got grace
    grant grass great green grey had hail hand hands happy hard has have he head heart help
    helps her here high hill him his holy home hood hook hope hoping house how howling hunter
    hurry i ice if in is it its jack january jay jolly joy july june just justice keen keep
    keeps kid kind king know lake lance land lane large las last late law leaf learn let like
    line link little lobby lock long look looks los love low luck made major make makes many
    marble march mark marking master may me mild miles mill miller mom mommy monday moon more
    most mother much muddy mum mummy my net nets never new next nice no north not november now
    october of off often olive on once one only or other our out over pace page park pass passes
    passing pat path patience peace play played player players playing plays pool potter power
    practice practices pretty price pride puck quick rain ranger ready real really rest rich
    ring river rob rock root rope rose rough round rover run said san sand saturday save see
    sees self september shade shaggy sharp she shoot shooter shooting short shot shots should
    shows shy silly silver since skate skater skates skating skill skills skinny skip sky slack
    slim small smart smith snow so some soon sorry south spark sparks spike sport spring start
    starts stay stays steel step steps still stone stop stops strange street strong such summer
    sunday sunny support sweet swift take takes talk tally team tell than thank thanks that the
    their them then there these they thing this those thursday time to today together too
    totally town trace train trip trolley try trying tuesday turn turns under until up us use
    usually valley van very volley von walk wall wants was watch way we wednesday well were west
    what when where which while white who why wild will willing win winter wise with wonderful
    wood woods work worked working works worry worth would yards year yellow yes you young your""".split()
)
# without accents, as names are compared
FRENCH = frozenset(
    """a abord ainsi alors ami amie annee annees aout apres arret arrets assez au aucun aucune
    aujourd aussi autour autre autres aux avance avant avec avoir avril banc bande bandes bas
    basse beau beaucoup belle bien bientot blanc blanche bleu bleue bleus bois bon bonne bons
    bord bords boucher brun brune but buts ca cadre car ce ceci cela celle celui centre ces cet
    cette chaque chasse chasser chez clair claire claires coeur coin coins colline comme comment
    continue continuez cote cotes couloir court dans de debut decembre dehors depart departs
    depuis des desormais deux dimanche donc douce doux du eau elle en encore enfant enfants
    ensemble ensuite entre equipe est et ete etoile etre exercice faire fait faites fete fevrier
    fier fiere fin flamme florence force fort france gagne gagner garcon garde glace grace grand
    gris gros grosse habilete haut haute heureux hier hiver il ils iris jamais janvier jaune je
    jeudi jeux joie joli jolie jouer joueur joueurs jour jours juillet juin juste justice la le
    leger lent les leur leurs libre ligne lignes livre long longue lors lumiere lundi lune ma
    mai main maintenant mais maison maitre mal marche mardi mars meme merci mercredi mes mieux
    mince moi moins mois mon mont montagne mur ne neige neuf noel noir noire nos notre nous
    nouveau novembre octobre olive on ont or ou oui page palette papa par parent parents parfait
    parfois parlez parmi partout pas passe passes patin patinage patine patins pendant petit
    petite petits peu peut pied pieds pierre place plaisir plus plutot point pont porte pour
    pourquoi pourtant pratique premier premiere pres presque printemps prochain prochaine puis
    quand que quel quelle quelques qui quoi rang regard regardez reine rien roi rond rondelle
    rose rouge rousse sa sage saison samedi sans se seance seances semaine septembre ses si
    simple sincere soir soleil solide son sont sous souvent sur surtout tard te temps tendre tir
    tirs toi tot toujours tour tous tout toute toutes tranquille travail travaille travailler
    tres tresor trois trop un une vallee vendredi vers vert verte victoire vieux ville vite vive
    voici voila voir vos votre vous voyez vrai vraiment yeux""".split()
)
# after an ordinary word that begins a sentence these say that it is no name: "Mark a spot", "Will you help?"
WITHOUT_NAMES = frozenset(
    """a all an any both each every he her his i it my our she some that the their them there these they this
    those us we you your ce ces des il ils la le les leur ma mon nos notre nous on sa ses son un une vos votre
    vous""".split()
)
MONTHS = frozenset(("april", "august", "avril", "june", "juin", "mai", "march", "mars", "may"))
WITH_MONTHS = frozenset("early in late last mid next since this till until debut des en fin".split())
