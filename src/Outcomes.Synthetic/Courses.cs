using System.Collections.Immutable;
using Bogus;

namespace Outcomes.Synthetic;

/// <summary>The way from the first attempt to the final airway.</summary>
internal static class Courses
{
    public static Course Draw(Randomizer draw, DateOnly date, Patient patient, Plant? plant) => plant switch
    {
        Plant.DelayedOesophageal => PlantedCourses.DelayedOesophageal(draw),
        Plant.ReturnedToPlanA => PlantedCourses.ReturnedToPlanA(draw),
        Plant.FrontOfNeck => PlantedCourses.FrontOfNeck(draw),
        _ when draw.Chance(10) => PrimarySupraglottic(draw, patient),
        _ => Ladder(draw, date, patient),
    };

    private static Course PrimarySupraglottic(Randomizer draw, Patient patient) =>
        End(draw,
            [AttemptDraws.Supraglottic(draw, "success") with
            {
                Grade = AttemptDraws.Grade(draw, patient),
                Specialty = AttemptDraws.Specialty(draw, patient)
            }], planA: "not_used", planB: "succeeded", planC: "not_used", finalPlan: "B", finalAirway: "sga");

    private static Course Ladder(Randomizer draw, DateOnly date, Patient patient)
    {
        var attempts = ImmutableArray.CreateBuilder<Attempt>();
        var (grade, specialty) = (AttemptDraws.Grade(draw, patient), AttemptDraws.Specialty(draw, patient));

        var technique = draw.Chance(15) ? "flexible_scope" : draw.Chance(Practice.VideoFirst(date)) ? "video" : "direct";
        var success = draw.Chance(technique == "flexible_scope" ? 850 : Practice.FirstSuccess(date, technique == "video"));
        attempts.Add(AttemptDraws.Laryngoscopy(draw, technique, success) with { Grade = grade, Specialty = specialty });

        // A second attempt nine times in ten, a third about every other time; each needs a change, as the guidelines ask.
        while (!success && attempts.Count < 3 && draw.Chance(attempts.Count == 1 ? 900 : 500))
        {
            success = draw.Chance(attempts.Count == 1 ? 770 : 650);
            attempts.Add(AttemptDraws.Again(draw, attempts[^1], success));
        }
        if (success)
            return End(draw, attempts.ToImmutable(), "succeeded", "not_used", "not_used", "A", "tube");

        var supraglottic = draw.Chance(850);
        attempts.Add(AttemptDraws.Supraglottic(draw, supraglottic ? "success" : "other") with
        {
            Grade = grade,
            Specialty = specialty,
            Changes = ["device"],
        });
        if (supraglottic)
            return End(draw, attempts.ToImmutable(), "failed", "succeeded", "not_used", "B", "sga");

        attempts.Add(AttemptDraws.Facemask(draw, "success") with { Grade = grade, Specialty = specialty, Changes = ["device"] });
        return draw.Chance(300)
            ? End(draw, attempts.ToImmutable(), "failed", "failed", "succeeded", "woken", "none")
            : End(draw, attempts.ToImmutable(), "failed", "failed", "succeeded", "C", "facemask");
    }

    /// <summary>The facts that follow from the attempts: help, oesophageal intubation, carbon dioxide.</summary>
    public static Course End(
        Randomizer draw, ImmutableArray<Attempt> attempts, string planA, string planB, string planC, string finalPlan, string finalAirway)
    {
        var oesophageal = attempts.Any(attempt => attempt.Outcome == "oesophageal");
        var confirmation = finalAirway is "none" or "facemask"
            ? null
            : draw.Weighted((940, "waveform"), (35, "colorimetric"), (25, "none"));
        return new Course(attempts, planA, planB, planC, "not_used", finalPlan, finalAirway,
            oesophageal ? "recognised_immediately" : "none",
            oesophageal ? draw.Int(8, 45) : null,
            attempts.Length > 1 ? "after_failed_attempt" : draw.Weighted((25, "before"), (75, "no")),
            confirmation,
            confirmation is null ? null : confirmation == "waveform" && draw.Chance(960));
    }
}
