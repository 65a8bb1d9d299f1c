"""Small published tables, typed in with their source, on which the computations are checked."""

import numpy as np

# Lesnoff et al. (2004), Veterinary Research 35:399-412: contagious bovine pleuropneumonia, cases among
# the animals of 15 herds in 4 periods. Written herd: period:incidence/size.
CBPP = """
1: 1:2/14 2:3/12 3:4/9 4:0/5; 2: 1:3/22 2:1/18 3:1/21; 3: 1:8/22 2:2/16 3:0/16 4:2/20;
4: 1:2/10 2:0/10 3:2/9 4:0/6; 5: 1:5/18 2:0/25 3:0/24 4:1/4; 6: 1:3/17 2:0/17 3:0/18 4:1/20;
7: 1:8/16 2:1/10 3:3/9 4:0/5; 8: 1:12/34; 9: 1:2/9 2:0/6 3:0/8 4:0/6; 10: 1:1/22 2:1/22 3:0/18 4:2/22;
11: 1:0/25 2:5/27 3:3/22 4:1/22; 12: 1:2/10 2:1/8 3:0/6 4:0/5; 13: 1:1/21 2:2/24 3:0/19 4:0/23;
14: 1:11/19 2:0/2 3:0/3 4:0/2; 15: 1:1/19 2:1/15 3:1/15 4:0/15
"""

# Crowder (1978), Applied Statistics 27:34-37, Table 3: germinated seeds of those sown, by plate.
SEEDS = {
    ("O75", "bean"): "10/39 23/62 23/81 26/51 17/39",
    ("O75", "cucumber"): "5/6 53/74 55/72 32/51 46/79 10/13",
    ("O73", "bean"): "8/16 10/30 8/28 23/45 0/4",
    ("O73", "cucumber"): "3/12 22/41 15/30 32/51 3/7",
}

# Bock and Lieberman (1970), Psychometrika 35:179-197: section 6 of the LSAT, 1000 people and 5 items,
# as pattern:people, 1 is right.
LSAT = """
00000:3 00001:6 00010:2 00011:11 00100:1 00101:1 00110:3 00111:4 01000:1 01001:8 01011:16 01101:3 01110:2
01111:15 10000:10 10001:29 10010:14 10011:81 10100:3 10101:28 10110:15 10111:80 11000:16 11001:56 11010:21
11011:173 11100:11 11101:61 11110:28 11111:298
"""

# Dalal, Fowlkes and Hoadley (1989), JASA 84:945-957: launch temperature (degrees Fahrenheit) and whether
# any O-ring was damaged, 23 flights.
TEMPERATURE = (66, 70, 69, 68, 67, 72, 73, 70, 57, 63, 70, 78, 67, 53, 67, 75, 70, 81, 76, 79, 75, 76, 58)
DAMAGED = (0, 1, 0, 0, 0, 0, 0, 0, 1, 1, 1, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 1)

# Efron and Morris (1975), JASA 70:311-319, Table 1, and (1977), Scientific American 236(5):119-127: hits of
# 18 players in their first 45 at-bats, and their averages over the rest of the season.
AT_BATS = 45
HITS = np.array([18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7])
REST = np.array(
    [0.346, 0.298, 0.276, 0.222, 0.273, 0.270, 0.263, 0.210, 0.269, 0.230, 0.264, 0.256, 0.303, 0.264, 0.226,
     0.285, 0.316, 0.200]
)  # fmt: skip

# Agresti (2002), Categorical Data Analysis, 2nd edition, section 10.6: wins and losses at home, 1987, of the
# seven teams of the American League's Eastern Division. Rows are at home, columns away, in this order:
# Milwaukee, Detroit, Toronto, New York, Boston, Cleveland, Baltimore. Typed in from memory.
AT_HOME = """
-   4-3 4-2 4-3 6-1 4-2 6-0
3-3 -   4-2 4-3 6-0 6-1 4-3
2-5 4-3 -   2-4 4-3 4-2 6-0
3-3 5-1 2-5 -   4-3 4-2 6-1
5-1 2-5 3-3 4-2 -   5-2 6-0
2-5 3-3 3-4 4-3 4-2 -   2-4
2-5 1-5 1-6 2-4 1-6 3-4 -
"""

# Fleiss (1971), Psychol Bull 76:378-382: for each of 30 subjects, how many of six raters chose each of five
# diagnoses. The same table as in the tests of statsmodels.
DIAGNOSES = """
00060 03003 01401 00006 03030 20400 00402 20310 20040 00006 10050 11040 03300 10050 02031 00501 30012 51000
02040 10203 00006 01050 02013 20040 10041 05010 40002 02040 10500 00006
"""

# Gwet's example of four raters (rows) and twelve units; - is a gap. It is in his Handbook of Inter-Rater
# Reliability; the title is from memory.
FOUR_RATERS = ("123321412---", "1233224125--", "-33323422513", "12332441251-")


def cbpp():
    """Return incidence, size, the design of four periods, and the herd, cell by cell."""
    cells = []
    for herd, entry in enumerate(CBPP.replace("\n", " ").split(";")):
        for part in entry.split(":", 1)[1].split():
            period, counts = part.split(":")
            cells.append((herd, int(period), *map(int, counts.split("/"))))
    herd, period, incidence, size = np.array(cells).T
    return incidence, size, np.column_stack([period > 0, *(period == p for p in (2, 3, 4))]), herd


def seeds():
    """Return germinated, sown, and the design: intercept, seed O73, cucumber, both."""
    rows = []
    for (seed, root), plates in SEEDS.items():
        a, b = seed == "O73", root == "cucumber"
        rows += [(*map(int, plate.split("/")), 1, a, b, a * b) for plate in plates.split()]
    table = np.array(rows)
    return table[:, 0], table[:, 1], table[:, 2:]


def at_home():
    """Return wins at home, games, and the design: each team's ability but the last one's, and being at home.

    Baltimore, the last team, is the one that the others are measured against.
    """
    rows = []
    for host, line in enumerate(AT_HOME.strip().split("\n")):
        for guest, games in enumerate(line.split()):
            if games != "-":
                won, lost = map(int, games.split("-"))
                ability = np.eye(7)[host] - np.eye(7)[guest]
                rows.append((won, won + lost, *ability[:6], 1))
    table = np.array(rows, float)
    return table[:, 0], table[:, 1], table[:, 2:]


def lsat():
    """Return the answers, person after person, the design of the items, and the person."""
    patterns = [entry.split(":") for entry in LSAT.split()]
    answers = np.array(
        [[int(c) for c in pattern] for pattern, people in patterns for _ in range(int(people))]
    )
    return answers.ravel(), np.tile(np.eye(5), (1000, 1)), np.repeat(np.arange(1000), 5)


def chosen(ratings):
    """Return how many raters chose each kind, (units, kinds), from one string of kinds for each rater."""
    kinds = sorted(set("".join(ratings)) - {"-"})
    return np.array([[unit.count(kind) for kind in kinds] for unit in zip(*ratings, strict=True)])


def diagnoses():
    """Return how many of the six raters chose each diagnosis, (30, 5)."""
    return np.array([[int(count) for count in subject] for subject in DIAGNOSES.split()])
