using System.Collections.Immutable;
using Bogus;

namespace Outcomes.Synthetic;

/// <summary>Signs of a difficult airway, and who and what was ready.</summary>
internal static class Foresights
{
    public static Foresight Draw(Randomizer draw, Patient patient, Course course, Observations seen)
    {
        var signs = new Foresight(
            Mallampati: draw.Weighted((36, "1"), (38, "2"), (13, "3"), (4, "4"), (9, "not_assessable")),
            SleepApnoea: draw.Chance(80),
            NeckLimited: draw.Chance(90),
            SmallMouth: draw.Chance(50),
            Coma: draw.Chance(patient.Indication is "low_consciousness" or "cardiac_arrest" ? 700 : 60),
            SevereHypoxaemia: seen.SpO2Pre < 80,
            NonAnaesthetist: course.Attempts[0].Specialty != "anaesthesia",
            SeniorPresent: false,
            DrugsReady: []);
        var foreseen = signs.KnownMacocha >= 3 || seen.SbpPre < 100;
        return signs with { SeniorPresent = draw.Chance(Practice.SeniorPresent(foreseen)), DrugsReady = Drugs(draw, patient, foreseen) };
    }

    private static ImmutableArray<string> Drugs(Randomizer draw, Patient patient, bool foreseen)
    {
        var found = ImmutableArray.CreateBuilder<string>();
        if (!patient.ArrestBefore)
            found.AddRange("induction", "relaxant");
        if (draw.Chance(Practice.VasopressorReady(foreseen)))
            found.Add("vasopressor");
        if (draw.Chance(600))
            found.Add("maintenance_sedation");
        if (draw.Chance(550))
            found.Add("flush");
        return found.Count == 0 ? ["none"] : found.ToImmutable();
    }
}
