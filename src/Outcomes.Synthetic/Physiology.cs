using System.Collections.Immutable;
using Bogus;

namespace Outcomes.Synthetic;

/// <summary>Saturations, pressures and what went wrong; a lowest value is never above the value at induction.</summary>
internal static class Physiology
{
    public static Observations Draw(Randomizer draw, DateOnly date, Patient patient, Course course, Plant? plant)
    {
        var (pre, lowest) = Saturations(draw, date, course, plant);
        var sbpPre = draw.Bell(62, 190);
        var sbpMin = sbpPre - (draw.Chance(220) ? draw.Int(30, 60) : draw.Int(0, 28));
        sbpMin = Math.Max(sbpMin, Math.Min(sbpPre, 42));
        var vasopressorNew = draw.Chance(sbpMin < 65 ? 900 : sbpMin < 90 ? 550 : 40);
        var arrest = draw.Chance(lowest < 65 || sbpMin < 60 ? 90 : 6) && !patient.ArrestBefore && plant is null;
        return new Observations(pre, lowest, SpO2At2Min: Math.Min(100, Math.Max(lowest, 90) + draw.Int(0, 8)), sbpPre, sbpMin,
            VasopressorPre: sbpPre < 100 ? draw.Weighted((4, "infusion"), (3, "prophylactic_bolus"), (3, "none"))
                : draw.Weighted((8, "infusion"), (6, "prophylactic_bolus"), (86, "none")),
            vasopressorNew,
            FluidMl: draw.Weighted((55, 0), (25, 250), (15, 500), (5, 1000)),
            arrest,
            Complications(draw, course, plant));
    }

    private static (int Pre, int Lowest) Saturations(Randomizer draw, DateOnly date, Course course, Plant? plant)
    {
        if (plant is Plant.FrontOfNeck)
            return (91, 52);
        if (plant is Plant.DelayedOesophageal)
            return (97, 58);
        if (plant is Plant.LateCorrection)
            return (96, draw.Int(81, 86));
        if (plant is null && draw.Chance(130))
        {
            var low = draw.Bell(68, 89);
            return (low, Math.Max(40, low - draw.Int(0, 14)));
        }
        var pre = draw.Weighted((4, 90), (4, 91), (5, 92), (6, 93), (8, 94), (9, 95), (11, 96), (13, 97), (14, 98), (13, 99), (13, 100));
        var abandoned = course.Attempts.Any(attempt => attempt.Outcome == "desaturation_abandoned");
        return draw.Chance(abandoned ? 950 : Practice.Desaturation(date, course.Failed))
            ? (pre, 89 - ((draw.Int(0, 14) + draw.Int(0, 14)) * (course.Failed > 1 ? 3 : 2) / 3))
            : (pre, pre - draw.Int(0, Math.Min(6, pre - 90)));
    }

    private static ImmutableArray<string> Complications(Randomizer draw, Course course, Plant? plant)
    {
        if (plant is Plant.DelayedOesophageal)
            return ["bradycardia_lt40"];
        var found = ImmutableArray.CreateBuilder<string>();
        if (draw.Chance(18 + (30 * course.Failed)))
            found.Add("aspiration");
        if (draw.Chance(12) && course.FinalAirway == "tube")
            found.Add("main_bronchus");
        if (draw.Chance(12))
            found.Add("arrhythmia");
        if (draw.Chance(6 + (10 * course.Failed)))
            found.Add("dental");
        return found.Count == 0 ? ["none"] : found.ToImmutable();
    }

    /// <summary>
    /// The course with each attempt's saturations. The record's lowest value belongs to the last failed attempt, or to the only
    /// one; the values of the others lie between it and the start.
    /// </summary>
    public static Course InAttempts(Randomizer draw, Course course, Observations seen)
    {
        var worst = course.Attempts.Select((attempt, i) => (attempt, i)).LastOrDefault(x => x.attempt.Outcome != "success").i;
        var start = seen.SpO2Pre;
        var attempts = ImmutableArray.CreateBuilder<Attempt>(course.Attempts.Length);
        for (var i = 0; i < course.Attempts.Length; i++)
        {
            var lowest = i == worst ? seen.SpO2Min : draw.Int(seen.SpO2Min, start);
            attempts.Add(course.Attempts[i] with { SpO2Start = start, SpO2Min = lowest });
            start = draw.Int(lowest, Math.Max(lowest, seen.SpO2Pre));
        }
        return course with { Attempts = attempts.ToImmutable() };
    }
}
