using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>The comparisons of two independent groups beyond the default difference.</summary>
internal static class TwoGroupStatistics
{
    private const string Example = """{"first": {"met": 9, "eligible": 13}, "second": {"met": 4, "eligible": 14}}""";

    private static readonly ComputeInput First = new("first", "count", "the first group: an object of met and eligible");
    private static readonly ComputeInput Second = new("second", "count",
        "the second group, which is subtracted or divides: an object of met and eligible");
    private static readonly ComputeInput Level = new("level", "number", "two-sided confidence level, above 0 and below 1", "0.95");
    private static readonly ComputeInput FirstRate =
        new("first", "rate", "the first group: an object of events and exposure, such as {\"events\": 11, \"exposure\": 800}");

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        Of("difference_newcombe_cc", "difference of two proportions, hybrid score interval with continuity correction",
            Difference.NewcombeCorrectedSource, Difference.NewcombeCorrected),
        Of("difference_miettinen_nurminen", "difference of two proportions with its score interval",
            DifferenceScore.MiettinenNurminenSource, DifferenceScore.MiettinenNurminen),
        Of("difference_mee", "the same without the factor N/(N - 1)", DifferenceScore.MeeSource, DifferenceScore.Mee),
        Of("difference_agresti_caffo", "difference of two proportions, an interval that is easy to work by hand",
            Difference.AgrestiCaffoSource, Difference.AgrestiCaffo),
        Of("difference_wald", "difference of two proportions with the Wald interval, only to reproduce a paper that used it",
            Difference.WaldSource, Difference.Wald),
        Of("risk_ratio_katz", "ratio of two proportions with its interval on the logarithm", RiskRatio.KatzSource, RiskRatio.Katz),
        Of("risk_ratio_score", "ratio of two proportions with its score interval, also for empty cells",
            RiskRatio.ScoreSource, RiskRatio.Score),
        Of("odds_ratio_woolf", "ratio of two odds with its interval on the logarithm", OddsRatio.WoolfSource, OddsRatio.Woolf),
        Of("odds_ratio_gart", "the same with one half added to each cell", OddsRatio.GartSource, OddsRatio.Gart),
        Of("odds_ratio_score", "ratio of two odds with its score interval, also for empty cells", OddsRatio.ScoreSource, OddsRatio.Score),
        Of("odds_ratio_exact", "likeliest ratio of two odds given the margins, with its exact interval",
            ConditionalOdds.ExactSource, ConditionalOdds.Exact),
        Of("odds_ratio_mid_p", "the same with the mid-P interval", ConditionalOdds.MidPSource, ConditionalOdds.Mid),
        new("fisher_exact", "exact test of two proportions given the margins: two-sided, mid-P, one-sided", [First, Second],
            FisherExact.Source, Example, Fisher),
        Rates("rate_ratio_exact", "ratio of two rates of events over exposures with its exact interval and two-sided p", RateRatio.Exact),
        Rates("rate_ratio_mid_p", "the same with the mid-P interval", RateRatio.Mid),
    ];

    private static ComputeStatistic Of(
        string name, string summary, string source, Func<Count, Count, double, DifferenceEstimate?> difference) =>
            new(name, summary, [First, Second, Level], source, Example,
                inputs => Intervals.Of(difference(Group(inputs, "first"), Group(inputs, "second"), inputs.Level())!));

    private static ComputeStatistic Of(string name, string summary, string source, Func<Count, Count, double, RatioEstimate?> ratio) =>
        new(name, summary, [First, Second, Level], source, Example,
            inputs => Intervals.Of(ratio(Group(inputs, "first"), Group(inputs, "second"), inputs.Level())!));

    private static ComputeStatistic Rates(
        string name, string summary, Func<(long, double), (long, double), double, RatioEstimate?> ratio) =>
        new(name, summary, [FirstRate,
            FirstRate with { Name = "second", Meaning = "the second group, which divides: an object of events and exposure" }, Level],
            RateRatio.Source, """{"first": {"events": 11, "exposure": 800}, "second": {"events": 21, "exposure": 3011}}""",
            inputs =>
            {
                var (first, second) = (inputs.Rate("first"), inputs.Rate("second"));
                if (ratio(first, second, inputs.Level()) is not { } estimate)
                    throw inputs.Wrong("first", "and second have no event: they say nothing about a ratio");
                var result = Intervals.Of(estimate);
                result["p"] = Numbers.Of(RateRatio.PValue(first, second));
                return result;
            });

    private static JsonObject Fisher(ComputeInputs inputs)
    {
        var test = FisherExact.Test(Group(inputs, "first"), Group(inputs, "second"))!;
        return new()
        {
            ["two_sided"] = Numbers.Of(test.TwoSided),
            ["two_sided_mid_p"] = Numbers.Of(test.TwoSidedMidP),
            ["less"] = Numbers.Of(test.Less),
            ["greater"] = Numbers.Of(test.Greater),
        };
    }

    /// <summary>A group of at most a million, which the exact methods take.</summary>
    private static Count Group(ComputeInputs inputs, string name)
    {
        var count = inputs.Group(name);
        return count.Eligible <= 1_000_000 ? count : throw inputs.Wrong($"{name}.eligible", "must be a whole number from 1 to 1000000");
    }
}
