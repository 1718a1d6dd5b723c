using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Model;

public class ModelTests
{
    [Fact]
    public void Levels_with_fewer_than_five_records_are_merged_and_those_not_recorded_come_last()
    {
        var stratum = StratumFigures.Of("location_type",
        [
            (CountRow.MissingLevel, new Count(3, 6, 0)), ("icu", new Count(9, 10, 0)), ("ward", new Count(1, 2, 2)),
            ("theatre", new Count(2, 2, 0)), ("empty", default),
        ], Samples.Estimate);
        Assert.Equal(["icu", CountRow.MissingLevel, StratumFigures.Other], stratum.Levels.Select(level => level.Level));
        Assert.Equal(new Count(3, 4, 2), stratum.Levels[2].Count);
        Assert.NotNull(stratum.Levels[2].Estimate);
    }

    [Fact]
    public void Merged_levels_that_are_few_themselves_have_no_estimate()
    {
        var stratum = StratumFigures.Of("f", [("a", new Count(9, 10, 0)), ("b", new Count(2, 3, 0))], Samples.Estimate);
        Assert.Null(stratum.Levels[1].Estimate);
    }

    [Theory]
    [InlineData("cardiac_arrest_peri", "operator_grade", false)]
    [InlineData("fona_performed", "operator_specialty", false)]
    [InlineData("plan_d_used", "operator_grade", false)]
    [InlineData("final_plan = 'died'", "operator_grade", false)]
    [InlineData("cardiac_arrest_peri", "location_type", true)]
    [InlineData("first_pass", "operator_grade", true)]
    [InlineData("fona_kit_ready", "operator_grade", true)]
    public void Operators_are_never_set_beside_death_arrest_or_front_of_neck(string met, string field, bool allowed) =>
        Assert.Equal(allowed, StratumFigures.Allowed(new Measure("m", "M") { Eligible = "emergency", Met = met }, field));

    [Fact]
    public void Findings_are_grouped_by_rule_the_worst_first()
    {
        Finding Of(string rule, Severity severity, string column) => new(rule, severity, "f.csv", 2, column, "", "Words.");
        var groups = FindingGroup.Of(
        [
            Of("a", Severity.Warn, "x"), Of("a", Severity.Warn, "y"), Of("a", Severity.Warn, "x"), Of("b", Severity.Blank, "z"),
            Of("c", Severity.Refuse, ""), Of("d", Severity.Blank, "z"), Of("d", Severity.Blank, "z"),
        ]);
        Assert.Equal(["c", "d", "b", "a"], groups.Select(group => group.Rule));
        Assert.Equal(3, groups[3].Findings);
        Assert.Equal(["x", "y"], groups[3].Columns);
        Assert.Empty(groups[0].Columns);
    }

    [Fact]
    public void Quantiles_are_those_of_definition_7()
    {
        // R 4: quantile(c(1,2,2,4,7,9,9,10), type = 7) gives 25 % 2, 50 % 5.5, 75 % 9; by hand: places 1.75, 3.5, 5.25 of 0 to 7.
        var summary = QuantitySummary.Of([(1, 1), (2, 2), (4, 1), (7, 1), (9, 2), (10, 1)], 3)!;
        Assert.Equal((8L, 3L, 2.0, 5.5, 9.0, 1L, 10L),
            (summary.N, summary.Missing, summary.LowerQuartile, summary.Median, summary.UpperQuartile, summary.Least, summary.Greatest));
        Assert.Null(QuantitySummary.Of([(4, 0)], 2));
    }

    [Theory]
    // Above 1, below 0, on the median =, gap -.
    [InlineData("0111=10", 4, 1, 5, true)]
    [InlineData("110-00", 3, 2, 5, false)]
    [InlineData("1100", 2, 2, 3, false)]
    public void The_longest_run_passes_over_points_on_the_median_and_gaps(string sides, int length, int first, int last, bool above)
    {
        var chart = Chart(sides, length);
        Assert.Equal(new LongestRun(first, last, above), LongestRun.Of(chart));
    }

    [Fact]
    public void Without_a_median_there_is_no_run() => Assert.Null(LongestRun.Of(Chart("1100", 2) with { Median = null }));

    [Fact]
    public void A_year_starts_no_earlier_than_the_records()
    {
        var model = Samples.Model();
        Assert.Equal(new Month(2025, 4), model.YearFrom);
        Assert.Equal(model.First, (model with { Month = model.First.AddMonths(3) }).YearFrom);
        Assert.Equal(model.Procedures[^12..].Sum(), model.ProceduresIn(model.YearFrom, model.Month));
    }

    private static RunChart Chart(string sides, int longest) => new()
    {
        Span = PointSpan.Month,
        Points = [.. sides.Select((side, i) => new RunChartPoint(i, 1, new Count(0, side == '-' ? 0 : 10, 0),
            side switch { '1' => 0.9, '0' => 0.1, '=' => 0.5, _ => null }))],
        Baseline = (0, 1),
        Median = 0.5,
        Useful = sides.Count(side => side is '0' or '1'),
        LongestRun = longest,
        RunLimit = 9,
        Crossings = 1,
        CrossingsLimit = 0,
        Untested = Untested.No,
        Chance = 0.05,
        ChanceMethod = ChanceMethod.FairCoin,
    };
}
