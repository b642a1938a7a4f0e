"""What every screen and print of an inspection carries; own words."""

CAUTIONS = (
    "This is your own check, not scrutineering, homologation or approval. Only the event's licensed "
    "scrutineer decides, and may turn away a car that meets every line here.",
    "The regulations in force come first: the yearbook, the series' rules, the event's own regulations "
    "and its bulletins, in that order. Figures age; each shows its edition and date.",
    "Cages, belts, seats and their anchorages are for a competent person to design and weld. A "
    "calculation is no certificate. Do not weld, drill or bend a certified cage.",
    "After any crash or hard hit, belts, seat, helmet, cage and mounts are out of use until their maker "
    "or a scrutineer has looked at them. Record it.",
    "Do not trust a printed date alone: a label that is faded, cut or missing counts as out of date. "
    "Fakes exist; buy from authorised sellers.",
    "Fuel: the venue's rules, engine off, car earthed, a dressed person with an extinguisher; never "
    "store more than venue and law allow.",
    "Extinguisher armed before going out, pin in for transport. Gas and powder in a closed cabin harm "
    "breathing.",
    "On the road, harness, cage, padding, removed airbags, glass and noise may be unlawful or unsafe, "
    "and a cage beside a head without a helmet is dangerous. Ask your insurer and check the type "
    "approval.",
    "1.6 mm of tread is where the law ends, not a safe depth in the wet. Heat-cycled road tyres lose "
    "wet grip earlier.",
    "Driver: licence class, medical, rest. A driving-time limit is no advice on tiredness. Do not drive "
    "home tired.",
    "A figure marked unverified is from memory: confirm it in the regulation before it can count as a pass.",
    "Every measurement has its error. A value within its error of a limit is not a pass.",
)
