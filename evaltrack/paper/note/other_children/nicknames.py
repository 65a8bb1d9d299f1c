"""Usual short forms of first names that do not begin like the name, in English and in French.

A form that begins like its name, as Tom for Thomas, needs no line here.
"""

_SHORT_FORMS = """
abigail: gail
albert alberte: bert bertie
alexander alexandre alexandra alexandrine alexis: xander xandra lex lexi lexie sandy sasha sacha
andrew: drew
anthony antoine antonio antonia: tony toni toine tonio
benjamin benedict benoit bennett: ben benny benji benjy
catherine katherine kathryn kathleen katarina katharina: kate katie katy kathy cathy kit kitty trina
charles charlotte: charlie chuck chaz charly lottie
christopher christophe: kit topher
dorothy: dottie
edward edouard edmund edwin: eddie ned ted teddy
elizabeth elisabeth: liz lizzie lizzy lisa libby beth betty betsy bess ellie elsie babette lise lisette eliza
emmanuel emmanuelle: manu manny
eugene: gene
francis francois francisco frances francoise: frank frankie franny paco
frederick frederic frederique: freddy freddie rick ricky
gabriel gabrielle: gaby gabby
gerald gerard: jerry gerry
guillaume: gui
harold: harry hal
helen helena helene ellen eleanor: nell nellie nelly lena
henry henri: harry hank hal
isabel isabelle isabella isobel: bella belle izzy izzie
jacob jakob: jake
jacques: jacquot
james: jim jimmy jamie
jeffrey geoffrey: geoff jeff
jeremy jeremie: jerry
john jonathan: johnny jack jon jonny
joseph josephine: joe joey jo josie
josephine joanna johanna: jo josie
lawrence laurence: larry
leonard leo: lenny lennie
lillian liliane: lily
louis louise: lou loulou lulu
madeleine madeline: maddie maddy mado
margaret marguerite: maggie meg megan peg peggy daisy greta
mary marie maria: molly polly
matthew mathieu matthieu: matt matty
michael michel mikael mikhail: mike mikey mick mickey misha
nathaniel nathan jonathan: nate nat
nicholas nicolas nikolai: nick nicky nico niko nik
nicole: nikki nicky
olivia oliver olivier: ollie olly liv livvy
patricia patrick patrice: pat patty paddy tricia trish
penelope: penny
peter pierre: pete pierrot
philip philippe: phil
rebecca: becky becca bex
richard: dick rick ricky rich richie
robert roberto: rob robbie robby bob bobby bert
russell: rusty
sarah sara: sally sadie
sebastian sebastien: seb
stephen steven stephane etienne: steve stevie steph
susan susannah suzanne: sue suzie susie suzy
theresa: terry tess tessa
theodore theodora: ted teddy
timothy: timmy
victoria: vicky vicki tori
vincent: vinnie
walter: wally
william: bill billy will willy willie liam
yevgeny evgeny: zhenya
zachary zachariah: zack zach zak
"""


def _read() -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for names, forms in (line.split(": ") for line in _SHORT_FORMS.strip().split("\n")):
        for name in names.split():
            for form in forms.split():
                found.setdefault(name, set()).add(form)
                found.setdefault(form, set()).add(name)  # who is Bill on the roster may be called William
    return {name: frozenset(others) for name, others in found.items()}


_BY_NAME = _read()


def nicknames_of(flat: str) -> frozenset[str]:
    """Return how somebody with a first name, in small letters without accents, may be called as well."""
    return _BY_NAME.get(flat, frozenset())
