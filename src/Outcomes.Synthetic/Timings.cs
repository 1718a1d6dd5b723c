using System.Collections.Immutable;
using Bogus;

namespace Outcomes.Synthetic;

/// <summary>When things happened. Attempts follow one another with pauses between, so that no time contradicts another.</summary>
internal static class Timings
{
    public static Course InAttempts(Randomizer draw, Course course, Patient patient, out Timing timing)
    {
        // Without drugs the first blade is the induction.
        var at = patient.ArrestBefore ? 0 : draw.Bell(45, 110);
        var attempts = ImmutableArray.CreateBuilder<Attempt>(course.Attempts.Length);
        var (end, declared) = (0, 0);
        foreach (var attempt in course.Attempts)
        {
            if (attempt.Technique == "fona")
                declared = at - draw.Int(20, 50);
            attempts.Add(attempt with { StartSeconds = at });
            end = at + attempt.DurationSeconds;
            // A tube in the oesophagus is first recognised, then the next attempt begins.
            at = Math.Max(end, attempt.Outcome == "oesophageal" ? at + (course.RecognitionSeconds ?? 0) : 0) + draw.Bell(25, 80);
        }

        var neck = attempts.FirstOrDefault(attempt => attempt.Technique == "fona");
        timing = new(Decision(draw, patient),
            FirstBlade: attempts.FirstOrDefault(Course.IsIntubation)?.StartSeconds,
            CicoDeclared: neck is null ? null : declared,
            FrontOfNeck: neck?.StartSeconds,
            Confirmed: course.FinalAirway is "tube" or "sga" or "fona_scalpel" ? end + draw.Bell(8, 30) : null);
        return course with { Attempts = attempts.ToImmutable() };
    }

    /// <summary>Protective equipment and the check outside take their time.</summary>
    private static int Decision(Randomizer draw, Patient patient)
    {
        var seconds = patient.ArrestBefore ? draw.Bell(30, 240)
            : patient.Urgency == "immediate_arrest_or_periarrest" ? draw.Bell(180, 900)
            : draw.Bell(420, 1800);
        return -(seconds + (patient.Infection == "not_suspected" ? 0 : draw.Bell(180, 720)));
    }
}
