using System.Globalization;
using Outcomes.Synthetic;

namespace Outcomes.Tests;

public class TruthTests
{
    private static readonly Exported Files = Exported.Of(Demo.Options);

    [Fact]
    public void First_pass_and_video_first_counted_from_the_files_are_the_truth()
    {
        // Counted here from the text alone: last row of a key wins, dates must exist and lie within the three years.
        var records = Files.ProcedureRows.Where(row => Day(row) is { } day && day <= Demo.Options.LastDay)
            .GroupBy(row => row["Case ref"]).Select(rows => rows.Last())
            .Where(row => row["Urgency"] != "Planned" && int.Parse(row["Age (years)"], CultureInfo.InvariantCulture) >= 16).ToList();
        var first = Files.AttemptRows.Where(row => row["Attempt"] == "1").ToDictionary(row => row["Case ref"]);
        Tally Count(bool after, Func<Dictionary<string, string>, bool> eligible, Func<Dictionary<string, string>, bool> met) =>
            records.Where(row => Day(row) >= Practice.ChangeMonth == after).Select(row => first[row["Case ref"]]).Where(eligible)
                .Aggregate(default(Tally), (tally, attempt) => tally.With(met(attempt)));
        Tally FirstPass(bool after) => Count(after,
            row => row["Technique"] is "Direct laryngoscopy" or "Videolaryngoscopy" or "Flexible scope", row => row["Result"] == "Success");
        Tally VideoFirst(bool after) => Count(after, _ => true, row => row["Device"] == "Videolaryngoscope");

        Assert.Equal(FirstPass(after: false), Files.Truth.FirstPassBefore);
        Assert.Equal(FirstPass(after: true), Files.Truth.FirstPassAfter);
        Assert.Equal(VideoFirst(after: false), Files.Truth.VideoFirstBefore);
        Assert.Equal(VideoFirst(after: true), Files.Truth.VideoFirstAfter);
        Assert.Equal(Files.Truth.FirstPassBefore.Eligible + Files.Truth.FirstPassAfter.Eligible,
            Files.Truth.Months.Sum(m => m.FirstPass.Eligible));
        Assert.Equal(Files.Truth.Procedures.Accepted, Files.Truth.Months.Sum(m => m.Cases));
    }

    [Fact]
    public void The_ledger_is_that_of_the_rows_in_the_files()
    {
        var rows = Files.ProcedureRows;
        var keys = rows.Select(row => row["Case ref"]).ToHashSet();
        var bad = rows.Where(row => Day(row) is not { } day || day > Demo.Options.LastDay).Select(row => row["Case ref"]).ToHashSet();
        var lost = Files.AttemptRows.Count(row => bad.Contains(row["Case ref"]) || !keys.Contains(row["Case ref"]));

        Assert.Equal(new RowTruth(rows.Count, keys.Count - bad.Count, rows.Count - keys.Count, bad.Count), Files.Truth.Procedures);
        Assert.Equal(new RowTruth(Files.AttemptRows.Count, Files.AttemptRows.Count - lost, 0, lost), Files.Truth.Attempts);
    }

    [Fact]
    public void The_demonstration_has_each_plant_as_often_as_it_says()
    {
        foreach (var plant in Enum.GetValues<Plant>())
            Assert.Equal(plant is Plant.ExactDuplicate or Plant.LateCorrection ? 2 : 1, Files.Truth.Planted[plant].Length);
    }

    [Fact]
    public void A_late_correction_stands_after_every_other_row_and_turns_no_fall_into_one()
    {
        var rows = Files.ProcedureRows;
        foreach (var key in Files.Truth.Planted[Plant.LateCorrection])
        {
            var versions = rows.Where(row => row["Case ref"] == key).ToList();
            Assert.Equal(2, versions.Count);
            Assert.Equal(versions[0]["SpO2 before"], versions[0]["SpO2 lowest"]);
            Assert.InRange(int.Parse(versions[1]["SpO2 lowest"], CultureInfo.InvariantCulture), 81, 86);
            Assert.Contains(key, rows.TakeLast(2).Select(row => row["Case ref"]));
        }
    }

    [Fact]
    public void Contradictions_are_in_the_export_as_planted()
    {
        Dictionary<string, string> Row(Plant plant) => Files.ProcedureRows.Last(row => row["Case ref"] == Files.Truth.Planted[plant][0]);
        int Number(Plant plant, string heading) => int.Parse(Row(plant)[heading], CultureInfo.InvariantCulture);

        Assert.True(Number(Plant.SaturationRose, "SpO2 lowest") > Number(Plant.SaturationRose, "SpO2 before"));
        Assert.Equal("980", Row(Plant.SaturationTenfold)["SpO2 lowest"]);
        Assert.EndsWith("%", Row(Plant.SaturationWithPercent)["SpO2 before"], StringComparison.Ordinal);
        var plans = Row(Plant.PlanContradiction);
        Assert.Equal("Not used", plans[plans["Ended at"]]);
        Assert.Equal(("None", "Y"), (Row(Plant.Co2Contradiction)["CO2 check"], Row(Plant.Co2Contradiction)["CO2 sustained"]));
        var attempts = Files.AttemptRows.Count(row => row["Case ref"] == Row(Plant.AttemptsDisagree)["Case ref"]
            && row["Plan"] == "Plan A");
        Assert.Equal(attempts + 2, Number(Plant.AttemptsDisagree, "Intubation attempts"));
        Assert.Equal(["Plan A", "Plan B", "Plan A"],
            Files.AttemptRows.Where(row => row["Case ref"] == Row(Plant.ReturnedToPlanA)["Case ref"]).Select(row => row["Plan"]));
        Assert.Equal("Seen late", Assert.Single(Files.ProcedureRows, row => row["Oesophageal"] == "Seen late")["Oesophageal"]);
        Assert.Single(Files.ProcedureRows, row => row["Front of neck done"] == "Y");
    }

    [Fact]
    public void Long_runs_approach_the_stated_chances()
    {
        // Twenty thousand procedures; five standard errors on either side of the stated chance, so the seed would have to be
        // one in a million.
        var truth = Exported.Of(new() { Seed = 4, Procedures = 20_000 }).Truth;

        // Flexible scopes (1.5 %, 0.85) move first pass by less than 0.002, and planted courses by less still.
        AssertNear(truth.FirstPassBefore, 0.780, 0.003);
        AssertNear(truth.FirstPassAfter, 0.900, 0.003);
        // One first airway in a hundred is supraglottic and one and a half are flexible: 0.99 x 0.985 of them are laryngoscopies.
        AssertNear(truth.VideoFirstBefore, 0.99 * 0.985 * 0.45, 0.003);
        AssertNear(truth.VideoFirstAfter, 0.99 * 0.985 * 0.90, 0.003);
        // Failed attempts raise the chance above that of a first-pass success.
        Assert.InRange(Rate(truth.SpO2Below90Winter), 0.28, 0.40);
        Assert.InRange(Rate(truth.SpO2Below90OtherMonths), 0.08, 0.19);
    }

    [Fact]
    public void The_demonstration_has_something_to_show()
    {
        Assert.InRange(Files.Truth.Procedures.Accepted, 450, 560);
        Assert.True(Rate(Files.Truth.FirstPassAfter) - Rate(Files.Truth.FirstPassBefore) > 0.08);
        Assert.True(Rate(Files.Truth.SpO2Below90Winter) > 1.5 * Rate(Files.Truth.SpO2Below90OtherMonths));
        Assert.Equal(3, Files.Truth.Months.Min(month => month.Cases));
    }

    [Fact]
    public void Volumes_vary_as_counts_do()
    {
        var volumes = Enumerable.Range(1, 20)
            .SelectMany(seed => Department.Invent(new() { Seed = seed, FirstMonth = new(2010, 1, 1), Months = 60 })
                .CountBy(p => (p.Date.Year, p.Date.Month)))
            .Select(month => (double)month.Value).ToList();
        var mean = volumes.Average();
        var variance = volumes.Sum(v => (v - mean) * (v - mean)) / (volumes.Count - 1);

        // Binomial(70, 0.2): mean 14, variance 11.2; raising the few months below 10 to 10 lifts the mean and narrows the spread a little.
        Assert.InRange(mean, 13.8, 14.6);
        Assert.InRange(variance, 7.5, 11.5);
    }

    private static void AssertNear(Tally tally, double chance, double allowance)
    {
        var error = Math.Sqrt(chance * (1 - chance) / tally.Eligible);
        Assert.InRange(Rate(tally), chance - (5 * error) - allowance, chance + (5 * error) + allowance);
    }

    private static double Rate(Tally tally) => (double)tally.Met / tally.Eligible;

    private static DateOnly? Day(Dictionary<string, string> row) =>
        DateOnly.TryParseExact(row["Date of procedure"], "dd/MM/yyyy", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? day
            : null;
}
