using Bogus;

namespace Outcomes.Synthetic;

internal static class Patients
{
    /// <summary>A patient. What is planted happens to adults in an emergency, so that every measure sees it.</summary>
    public static Patient Draw(Randomizer draw, Plant? plant)
    {
        var kind = draw.Weighted((25, "planned"), (70, "arrest"), (905, "emergency"));
        var child = draw.Chance(15) && plant is null;
        if (plant is not null)
            kind = "emergency";
        var age = child ? draw.Int(1, 15) : 16 + draw.Int(0, 30) + draw.Int(0, 43);
        var infection = draw.Weighted((80, "confirmed"), (140, "suspected"), (780, "not_suspected"));
        var infectious = infection != "not_suspected";
        return new Patient(
            AgeYears: age,
            Sex: draw.Weighted((45, "female"), (55, "male")),
            WeightKg: child ? (3 * age) + 8 + draw.Int(-1, 4) : draw.Bell(45, 120),
            Location: kind == "planned" ? "theatre" : draw.Weighted((46, "ed"), (36, "icu"), (12, "ward"), (3, "recovery"), (3, "imaging")),
            Urgency: kind switch
            {
                "planned" => "planned",
                "arrest" => "immediate_arrest_or_periarrest",
                _ => draw.Weighted((13, "immediate_arrest_or_periarrest"), (62, "emergency"), (25, "urgent")),
            },
            HourBand: kind == "planned" ? "08-18" : draw.Weighted((45, "08-18"), (22, "18-22"), (33, "22-08")),
            Indication: Indication(draw, kind),
            ArrestBefore: kind == "arrest",
            Infection: infection,
            Precaution: infectious ? draw.Weighted((6, "airborne"), (3, "droplet"), (1, "contact")) : null,
            Ppe: infectious ? draw.Weighted((7, "airborne"), (3, "droplet")) : draw.Weighted((8, "standard"), (2, "none")));
    }

    private static string Indication(Randomizer draw, string kind) => kind switch
    {
        "planned" => "planned_procedure",
        "arrest" => "cardiac_arrest",
        _ => draw.Weighted((34, "low_consciousness"), (30, "hypoxaemia"), (14, "ineffective_ventilation"), (5, "hypercapnia"),
            (5, "impending_obstruction"), (3, "existing_obstruction"), (5, "haemodynamic"), (4, "combative")),
    };
}
