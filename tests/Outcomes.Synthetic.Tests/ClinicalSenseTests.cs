using Outcomes.Synthetic;

namespace Outcomes.Tests;

/// <summary>Nothing contradicts itself but what is planted in the export: these rules hold for every invented procedure.</summary>
public class ClinicalSenseTests
{
    private static readonly List<Procedure> Many = [.. Department.Invent(new() { Seed = 77, Procedures = 6_000 })];

    [Fact]
    public void Dates_lie_within_the_months_asked_for() =>
        Assert.All(Many, p => Assert.InRange(p.Date, new DateOnly(2023, 4, 1), new DateOnly(2026, 3, 31)));

    [Fact]
    public void Lowest_values_are_not_above_the_first() => Assert.All(Many, p =>
    {
        var seen = p.Observations;
        Assert.InRange(seen.SpO2Min, 40, seen.SpO2Pre);
        Assert.InRange(seen.SpO2At2Min, seen.SpO2Min, 100);
        Assert.InRange(seen.SbpMin, 40, seen.SbpPre);
        Assert.Equal(seen.SpO2Min, p.Course.Attempts.Min(attempt => attempt.SpO2Min));
        Assert.All(p.Course.Attempts, attempt => Assert.InRange(attempt.SpO2Min, 40, attempt.SpO2Start));
    });

    [Fact]
    public void Plans_follow_from_the_attempts() => Assert.All(Many, p =>
    {
        var course = p.Course;
        foreach (var (plan, result) in new[] { ("A", course.PlanA), ("B", course.PlanB), ("C", course.PlanC), ("D", course.PlanD) })
        {
            var outcomes = course.Attempts.Where(attempt => attempt.Plan == plan).Select(attempt => attempt.Outcome).ToList();
            Assert.Equal(outcomes.Count == 0 ? "not_used" : outcomes.Contains("success") ? "succeeded" : "failed", result);
        }
        Assert.Equal(course.FinalPlan == "woken" ? "C" : course.FinalPlan, course.Attempts[^1].Plan);
        Assert.Equal("success", course.Attempts[^1].Outcome);
        Assert.Equal(course.FinalPlan switch { "A" => "tube", "B" => "sga", "C" => "facemask", "D" => "fona_scalpel", _ => "none" },
            course.FinalAirway);
        Assert.True(course.Attempts.Count(attempt => Course.IsIntubation(attempt) && attempt.Outcome == "success") <= 1);
        Assert.True(course.AttemptsTotal < 2 || course.HelpCalled != "no");
    });

    [Fact]
    public void Oesophageal_intubation_is_in_an_attempt_and_in_the_record() => Assert.All(Many, p =>
    {
        var attempted = p.Course.Attempts.Any(attempt => attempt.Outcome == "oesophageal");
        Assert.Equal(attempted, p.Course.Oesophageal != "none");
        Assert.Equal(attempted, p.Course.RecognitionSeconds is not null);
        Assert.True(p.Course.Oesophageal != "recognised_immediately" || p.Course.RecognitionSeconds <= 60);
    });

    [Fact]
    public void Sustained_carbon_dioxide_needs_a_waveform() =>
        Assert.All(Many, p => Assert.True(p.Course.SustainedCo2 != true || p.Course.Co2Confirmation == "waveform"));

    [Fact]
    public void Arrest_drugs_and_precautions_agree() => Assert.All(Many, p =>
    {
        Assert.Equal(p.Patient.ArrestBefore, p.Patient.Indication == "cardiac_arrest");
        Assert.Equal(p.Patient.ArrestBefore, p.Preparation.Sequence == "no_drugs");
        Assert.Equal(p.Preparation.Sequence == "no_drugs", p.Preparation.Relaxant == "none");
        Assert.False(p.Patient.ArrestBefore && p.Observations.ArrestPeri);
        Assert.Equal(p.Patient.Infection != "not_suspected", p.Patient.Precaution is not null);
        Assert.False(p.Patient.Infection == "not_suspected" && p.Patient.Ppe == "airborne");
        Assert.True(p.Preparation.Checklist != "completed" || p.Preparation.TeamBrief);
        Assert.True(p.Observations.Complications.Length == 1 || !p.Observations.Complications.Contains("none"));
    });

    [Fact]
    public void Ages_and_weights_are_those_of_people()
    {
        Assert.All(Many, p => Assert.InRange(p.Patient.AgeYears, 1, 89));
        Assert.All(Many.Where(p => p.Patient.AgeYears >= 16), p => Assert.InRange(p.Patient.WeightKg, 45, 120));
        Assert.All(Many.Where(p => p.Patient.AgeYears < 16), p => Assert.InRange(p.Patient.WeightKg, 9, 60));
    }

    [Fact]
    public void A_second_attempt_is_always_a_changed_one() => Assert.All(Many, p =>
    {
        Assert.Empty(p.Course.Attempts[0].Changes);
        Assert.All(p.Course.Attempts.Skip(1), attempt => Assert.NotEmpty(attempt.Changes));
    });
}
