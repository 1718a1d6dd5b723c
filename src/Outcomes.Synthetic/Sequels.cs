using System.Collections.Immutable;
using Bogus;

namespace Outcomes.Synthetic;

/// <summary>Doses, mean pressures, what was predicted and what came after. Drawn last, from a stream of its own.</summary>
internal static class Sequels
{
    public static Sequel Draw(Randomizer draw, Patient patient, Preparation preparation, Foresight foresight, Observations seen)
    {
        var shocked = seen.SbpPre < 100;
        var mapPre = Map(draw, seen.SbpPre);
        var trouble = seen.SpO2Min < 80 || seen.ArrestPeri || seen.SbpMin < 65;
        return new(
            WeightEstimated: draw.Chance(patient.ArrestBefore ? 900 : 600),
            AgentMg: patient.ArrestBefore ? null : Agent(draw, preparation.InductionAgent, patient.WeightKg, shocked),
            RelaxantMg: patient.ArrestBefore
                ? null
                : Dose(patient.WeightKg, preparation.Relaxant == "rocuronium" ? draw.Bell(70, 150) : draw.Bell(90, 170), step: 10),
            mapPre,
            MapMin: Math.Min(mapPre, Map(draw, seen.SbpMin)),
            MinutesBelow90: seen.SbpMin >= 90 ? 0 : draw.Bell(1, 26),
            DifficultyAsked: draw.Chance(preparation.Checklist == "completed" ? 920 : 450),
            DifficultyPredicted: draw.Chance(Predicted(foresight)),
            DiedWithin24Hours: draw.Chance(patient.ArrestBefore ? 600 : seen.ArrestPeri ? 400 : 12),
            Debriefed: draw.Chance(trouble ? 760 : 480));
    }

    /// <summary>Complications that this department's form came to ask for later, beside those that were there.</summary>
    public static ImmutableArray<string> Complications(Randomizer draw, Patient patient, ImmutableArray<string> before)
    {
        var found = ImmutableArray.CreateBuilder<string>();
        found.AddRange(before.Where(complication => complication != "none"));
        if (draw.Chance(4) && !patient.ArrestBefore)
            found.Add("awareness");
        if (draw.Chance(8))
            found.Add("drug_error");
        if (draw.Chance(14))
            found.Add("equipment_failure");
        return found.Count == 0 ? ["none"] : found.ToImmutable();
    }

    private static int Predicted(Foresight foresight) =>
        foresight.KnownMacocha >= 3 ? 850 : foresight.NeckLimited || foresight.SmallMouth ? 300 : 15;

    // Hundredths of a mg a kg; less where the patient is shocked.
    private static int Agent(Randomizer draw, string agent, int weight, bool shocked) => agent switch
    {
        "ketamine" => Dose(weight, shocked ? draw.Bell(50, 120) : draw.Bell(90, 200), step: 10),
        "propofol" => Dose(weight, shocked ? draw.Bell(30, 90) : draw.Bell(60, 180), step: 10),
        "etomidate" => Dose(weight, draw.Bell(15, 30), step: 2),
        "thiopental" => Dose(weight, shocked ? draw.Bell(100, 250) : draw.Bell(200, 450), step: 25),
        _ => Dose(weight, draw.Bell(3, 9), step: 1),
    };

    /// <summary>A dose in mg as it is drawn up: in whole steps, at least one.</summary>
    private static int Dose(int weight, int hundredthsPerKg, int step) =>
        Math.Max(1, ((weight * hundredthsPerKg) + (50 * step)) / (100 * step)) * step;

    private static int Map(Randomizer draw, int systolic) => Math.Min(systolic, Math.Max(40, (systolic * 7 / 10) + draw.Int(-4, 4)));
}
