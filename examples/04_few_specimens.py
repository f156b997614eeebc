"""What the smallest p-value is that a handful of specimens could ever give."""

import numpy as np

import ohmsworth as ow

# Before and after cleaning, the same specimens: differences of ln R.
for pairs in (3, 4, 6):
    differences = np.linspace(0.5, 0.8, pairs)  # every specimen fell, clearly
    found = ow.sign_flips(differences, seed=1)
    print(f"{pairs} before and after: p = {found.p_value:.4f}, the smallest possible is {found.smallest:.4f}")

# Separate specimens in two groups.
for each in (3, 4, 6):
    found = ow.two_groups(np.linspace(0.0, 0.1, each), np.linspace(0.9, 1.0, each), seed=1)
    print(
        f"{each} + {each} specimens: p = {found.p_value:.4f}, the smallest possible is {found.smallest:.4f}"
    )
