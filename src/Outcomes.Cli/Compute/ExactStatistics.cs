using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>Tests that count every arrangement, and the one-step odds ratio.</summary>
internal static class ExactStatistics
{
    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("fisher_exact_table", "exact test of a table of several rows and columns given its margins",
            [new("table", "list of lists of integers", "records in each row and column, rows of equal length, 2 to 50 of each")],
            FisherTable.Source, """{"table": [[1, 2, 1, 0], [3, 3, 6, 1], [10, 10, 14, 9], [6, 7, 12, 11]]}""", Table),
        new("peto_odds_ratio", "ratio of two odds by one step, over one table or several strata, with whether they agree",
            [
                new("first", "list of counts", "the first group in each stratum, objects of met and eligible"),
                new("second", "list of counts", "the second group in each stratum, in the same order"),
                new("level", "number", "two-sided confidence level, above 0 and below 1", "0.95"),
            ],
            PetoOdds.Source,
            """{"first": [{"met": 3, "eligible": 120}, {"met": 1, "eligible": 80}], "second": [{"met": 7, "eligible": 118},"""
                + """ {"met": 4, "eligible": 83}]}""",
            Peto),
        new("number_of_runs", "how unusual a number of runs is, given how many points lie on each side",
            [
                new("first", "integer", "points above, at least 1"),
                new("second", "integer", "points below, at least 1; at most 100000 in all"),
                new("runs", "integer", "runs seen, at least 2"),
            ],
            NumberOfRuns.Source, """{"first": 5, "second": 11, "runs": 11}""", Runs),
    ];

    private static JsonObject Table(ComputeInputs inputs)
    {
        var table = inputs.Rectangle("table");
        FisherTableResult? test;
        try
        {
            test = FisherTable.Test(table);
        }
        catch (ArgumentOutOfRangeException)
        {
            throw inputs.Wrong("table",
                "has too many tables with its margins to count: join categories, or use a chi-square test where cells are large");
        }
        return test is null
            ? throw inputs.Wrong("table", "must hold records in at least two rows and two columns")
            : new() { ["p"] = Numbers.Of(test.PValue), ["mid_p"] = Numbers.Of(test.MidP), ["chance_of_table"] = Numbers.Of(test.Seen) };
    }

    private static JsonObject Peto(ComputeInputs inputs)
    {
        var (first, second) = (inputs.Groups("first", 1, 1_000), inputs.Groups("second", 1, 1_000));
        if (first.Length != second.Length)
            throw inputs.Wrong("first", $"has {first.Length} strata and second has {second.Length}: they must have as many");
        if (PetoOdds.Estimate([.. first.Zip(second)], inputs.Level()) is not { } peto)
            throw inputs.Wrong("first", "and second have no stratum with records in both and with some met and some not");
        var result = Intervals.Of(peto.OddsRatio);
        result["observed_less_expected"] = Numbers.Of(peto.Observed);
        result["variance"] = Numbers.Of(peto.Variance);
        result["homogeneity"] = peto.Homogeneity is null ? null : Intervals.Of(peto.Homogeneity);
        return result;
    }

    private static JsonObject Runs(ComputeInputs inputs)
    {
        var first = (int)inputs.Integer("first", 1, NumberOfRuns.MostPoints - 1);
        var second = (int)inputs.Integer("second", 1, NumberOfRuns.MostPoints - first);
        var test = NumberOfRuns.Test(first, second, (int)inputs.Integer("runs", 2, NumberOfRuns.Most(first, second)));
        return new()
        {
            ["expected"] = Numbers.Of(test.Expected),
            ["standard_deviation"] = Numbers.Of(test.Deviation),
            ["z"] = Numbers.Of(test.Z),
            ["at_most"] = Numbers.Of(test.AtMost),
            ["at_least"] = Numbers.Of(test.AtLeast),
        };
    }
}
