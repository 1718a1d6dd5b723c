using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>The further intervals of one proportion, and simultaneous ones of several shares.</summary>
internal static class IntervalStatistics
{
    private static readonly ComputeInput Met = new("met", "integer", "records that met the measure, from 0 to eligible");
    private static readonly ComputeInput Eligible = new("eligible", "integer", "records judged, at least 1");
    private static readonly ComputeInput Level = new("level", "number", "two-sided confidence level, above 0 and below 1", "0.95");
    private static readonly ComputeInput Counts = new("counts", "list of integers",
        "records in each category, 2 to 100 categories; each record is in one");

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        One("jeffreys", "equal-tailed interval of the Jeffreys prior for a proportion", Jeffreys.Source, IntervalMethod.Jeffreys),
        One("mid_p", "exact interval for a proportion that counts half of what was seen", MidP.Source, IntervalMethod.MidP),
        One("agresti_coull", "interval for a proportion that is easy to work by hand", AgrestiCoull.Source, IntervalMethod.AgrestiCoull),
        One("wilson_cc", "score interval for a proportion with continuity correction", WilsonCorrected.Source,
            IntervalMethod.WilsonCorrected),
        One("likelihood", "likelihood-ratio interval for a proportion", LikelihoodInterval.Source, IntervalMethod.Likelihood),
        One("wald", "textbook normal interval for a proportion, only to reproduce a paper that used it", Wald.Source, IntervalMethod.Wald),
        One("wald_cc", "the same with continuity correction, only to reproduce a paper that used it", Wald.Source,
            IntervalMethod.WaldCorrected),
        new("goodman", "intervals for several shares of one whole that hold all at once", [Counts, Together()], Goodman.Source,
            """{"counts": [56, 72, 73, 59, 62, 87, 58]}""",
            inputs => Shares(inputs, Goodman.Intervals, ComputeInputs.MostRecords)),
    ];

    private static ComputeStatistic One(string name, string summary, string source, IntervalMethod method) =>
        new(name, summary, [Met, Eligible, Level], source, """{"met": 81, "eligible": 263}""",
            inputs => Intervals.Of(Proportion.Estimate(inputs.MetOfEligible(), method, inputs.Level())!));

    private static ComputeInput Together() => Level with { Meaning = "level of all intervals together, above 0 and below 1" };

    private static System.Text.Json.Nodes.JsonObject Shares(
        ComputeInputs inputs, Func<IReadOnlyList<long>, double, ImmutableArray<Bounds>> intervals, long most)
    {
        var counts = inputs.Integers("counts", 2, 100, most / 100);
        return counts.Sum() > 0
            ? Intervals.Of(counts, intervals(counts, inputs.Level()), inputs.Level())
            : throw inputs.Wrong("counts", "must hold at least one record in all");
    }
}
