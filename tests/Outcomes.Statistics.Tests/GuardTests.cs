using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>What a statistic refuses, and that it takes what lies just inside: a wall in the wrong place is as bad as none.</summary>
public class GuardTests
{
    private static readonly Count Some = new(3, 10, 0);
    private static readonly Count Wrong = new(11, 10, 0);
    private static readonly ChartBaseline Whole = new(0, int.MaxValue);
    private static readonly ImmutableArray<Effect> Effects = [new(0.1, 0.2), new(0.3, 0.1)];

    private static readonly (string Name, Func<Count, Count, double, object?> Of)[] Pairs =
    [
        ("newcombe", Difference.Newcombe), ("newcombe_cc", Difference.NewcombeCorrected), ("agresti_caffo", Difference.AgrestiCaffo),
        ("wald", Difference.Wald), ("wald_cc", Difference.WaldContinuityCorrected), ("mee", DifferenceScore.Mee),
        ("mn", DifferenceScore.MiettinenNurminen), ("katz", RiskRatio.Katz), ("risk_score", RiskRatio.Score),
        ("woolf", OddsRatio.Woolf), ("gart", OddsRatio.Gart), ("odds_score", OddsRatio.Score), ("exact", ConditionalOdds.Exact),
        ("mid", ConditionalOdds.Mid), ("mh_odds", (first, second, level) => MantelHaenszel.OddsRatio([(first, second)], level)),
        ("mh_risk", (first, second, level) => MantelHaenszel.RiskRatio([(first, second)], level)),
        ("mh_difference", (first, second, level) => MantelHaenszel.Difference([(first, second)], level)), ("fisher",
            (first, second, level) => level is > 0 and < 1
                ? FisherExact.Test(first, second)
                : throw new ArgumentOutOfRangeException(nameof(level))),
    ];

    public static TheoryData<string> PairNames => [.. Pairs.Select(pair => pair.Name)];

    [Theory]
    [MemberData(nameof(PairNames))]
    public void Two_groups_are_counts_and_the_level_is_one(string name)
    {
        var of = Pairs.First(pair => pair.Name == name).Of;
        Assert.NotNull(of(Some, new(5, 10, 0), 0.95));
        Count[] wrong = [Wrong, new(-1, 10, 0), new(0, -1, 0), new(3, 10, -1)];
        foreach (var count in wrong)
        {
            Assert.Throws<ArgumentOutOfRangeException>(() => of(count, Some, 0.95));
            Assert.Throws<ArgumentOutOfRangeException>(() => of(Some, count, 0.95));
            // Also where the other group is empty and nothing would be worked out.
            Assert.Throws<ArgumentOutOfRangeException>(() => of(count, default, 0.95));
            Assert.Throws<ArgumentOutOfRangeException>(() => of(default, count, 0.95));
        }
        foreach (var level in new[] { 0, 1, -0.1, 1.1, double.NaN })
            Assert.Throws<ArgumentOutOfRangeException>(() => of(Some, Some, level));
    }

    public static TheoryData<string> Refusals => [.. Refused.Select(refused => refused.Name)];

    private static readonly (string Name, string Parameter, Action Call)[] Refused =
    [
        ("exposure endless", "exposures", () => AttributeCharts.Rates([1], [double.PositiveInfinity], Whole)),
        ("exposure below 0", "exposures", () => AttributeCharts.Rates([0], [-1], Whole)),
        ("events below 0", "events", () => AttributeCharts.Rates([-1], [1], Whole)),
        ("multiple above 6", "multiple", () => AttributeCharts.Proportions([Some], Whole, multiple: 6.01)),
        ("multiple unknown", "multiple", () => AttributeCharts.Proportions([Some], Whole, multiple: double.NaN)),
        ("g: multiple 0", "multiple", () => RareEventChart.Cases([5], null, Whole, multiple: 0)),
        ("g: multiple above 6", "multiple", () => RareEventChart.Cases([5], null, Whole, multiple: 6.01)),
        ("g: baseline below 0", "baseline", () => RareEventChart.Cases([5], null, new(-1, 3))),
        ("t: baseline empty", "baseline", () => RareEventChart.Times([5], null, new(0, 0))),
        ("t: time endless", "times", () => RareEventChart.Times([double.PositiveInfinity], null, Whole)),
        ("t: open time below 0", "since", () => RareEventChart.Times([5], -1, Whole)),
        ("t: open time endless", "since", () => RareEventChart.Times([5], double.PositiveInfinity, Whole)),
        ("phases: no chart", "chart", () => ChartPhases.Make<Count>([Some], [new(0, 12, "start")], null!)),
        ("phases: two at one point", "phases", () => Phases(new(0, 12, "start"), new(0, 12, "again"))),
        ("phases: backwards", "phases", () => Phases(new(0, 12, "start"), new(2, 12, "later"), new(1, 12, "earlier"))),
        ("phases: after the last", "phases", () => Phases(new(0, 12, "start"), new(3, 12, "too late"))),
        ("phases: not from the first", "phases", () => Phases(new ChartPhase(1, 12, "late"))),
        ("phases: before the first", "phases", () => Phases(new ChartPhase(-1, 12, "early"))),
        ("homogeneity", "group", () => ChiSquare.Homogeneity([new(11, 10, 0), new(-1, 10, 0)])),
        ("cumulative: level", "level", () => CumulativePoisson.Accumulate([1], [1], 1)),
        ("cumulative: level of nothing", "level", () => CumulativePoisson.Accumulate([], [], 1)),
        ("cumulative: lengths", "expected", () => CumulativePoisson.Accumulate([1], [1, 2])),
        ("cumulative: endless", "expected", () => CumulativePoisson.Accumulate([1], [double.PositiveInfinity])),
        ("cumulative: not a number", "expected", () => CumulativePoisson.Accumulate([1], [double.NaN])),
        ("funnel target 0", "target", () => Funnels.Analyse([new("A", Some)], 0)),
        ("goodman: level", "level", () => Goodman.Intervals([1, 2], 1)),
        ("goodman: below 0", "counts", () => Goodman.Intervals([3, -1])),
        ("shrink: three", "values", () => JamesStein.Shrink([1, 2, 3], 1)),
        ("shrink: variance 0", "variance", () => JamesStein.Shrink([1, 2, 3, 4], 0)),
        ("shrink: variance unknown", "variance", () => JamesStein.Shrink([1, 2, 3, 4], double.NaN)),
        ("kappa: nobody", "table", () => Kappa.Estimate([[0, 0], [0, 0]])),
        ("kappa: below 0", "table", () => Kappa.Estimate([[3, -1], [1, 2]])),
        ("kappa: one category", "table", () => Kappa.Estimate([[3]])),
        ("kappa: weights", "weights", () => Kappa.Estimate([[1, 2], [3, 4]], (KappaWeights)9)),
        ("curve: alpha 0", "alpha", () => LearningCurve.Follow([true], 0.1, 0.2, 0, 0.1)),
        ("curve: alpha one half", "alpha", () => LearningCurve.Follow([true], 0.1, 0.2, 0.5, 0.1)),
        ("curve: beta 0", "beta", () => LearningCurve.Follow([true], 0.1, 0.2, 0.1, 0)),
        ("curve: beta one half", "beta", () => LearningCurve.Follow([true], 0.1, 0.2, 0.1, 0.5)),
        ("curve: rate 0", "acceptable", () => LearningCurve.Follow([true], 0, 0.2)),
        ("curve: rate 1", "acceptable", () => LearningCurve.Competence([true], 1, 1)),
        ("curve: rates turned", "unacceptable", () => LearningCurve.Follow([true], 0.2, 0.1)),
        ("curve: rates alike", "unacceptable", () => LearningCurve.Competence([true], 0.2, 0.2)),
        ("curve: unacceptable 1", "unacceptable", () => LearningCurve.Competence([true], 0.2, 1)),
        ("mantel-haenszel", "strata", () => MantelHaenszel.Test([(Wrong, Some)])),
        ("breslow-day", "strata", () => BreslowDay.Test([(Some, Wrong)])),
        ("cusum allowance", "allowance", () => MeanCharts.Cusum([1], 0, -0.1, 4)),
        ("cusum limit", "limit", () => MeanCharts.Cusum([1], 0, 0.5, 0)),
        ("ewma deviation", "deviation", () => MeanCharts.Ewma([1], 0, 0, 0.2)),
        ("ewma weight 0", "weight", () => MeanCharts.Ewma([1], 0, 1, 0)),
        ("ewma weight above 1", "weight", () => MeanCharts.Ewma([1], 0, 1, 1.01)),
        ("ewma multiple", "multiple", () => MeanCharts.Ewma([1], 0, 1, 0.2, 0)),
        ("mean level", "level", () => Moments.Of([5]).MeanInterval(1)),
        ("mean level of two", "level", () => Moments.Of([5, 6]).MeanInterval(0)),
        ("two-sided level 0", "level", () => Normal.TwoSided(0)),
        ("two-sided level 1", "level", () => Normal.TwoSided(1)),
        ("overdispersion: one", "z", () => Overdispersion.Estimate([1], [1])),
        ("overdispersion: lengths", "errors", () => Overdispersion.Estimate([1, 2], [1])),
        ("overdispersion: share", "winsorise", () => Overdispersion.Estimate([1, 2], [1, 1], -0.1)),
        ("logit of nothing", "count.Eligible", () => ProportionScale.Logit(default)),
        ("logit of no count", "count.Met", () => ProportionScale.Logit(Wrong)),
        ("quantile 0", "p", () => Quantiles.Estimate([(1, 1)], 0)),
        ("quantile level", "level", () => Quantiles.Estimate([(1, 1)], 0.5, 1)),
        ("quantile level of nothing", "level", () => Quantiles.Estimate([], 0.5, 1)),
        ("quantile alone below 0", "p", () => Quantiles.Find([(1, 1)], -0.1)),
        ("quantile alone above 1", "p", () => Quantiles.Find([(1, 1)], 1.1)),
        ("quantile alone, no number", "p", () => Quantiles.Find([(1, 1)], double.NaN)),
        ("quantile of fewer than none", "values", () => Quantiles.Find([(1, -1)], 0.5)),
        ("pool: level", "level", () => RandomEffects.Pool(Effects, level: 1)),
        ("pool: nothing", "effects", () => RandomEffects.Pool([])),
        ("pool: variance 0", "effects", () => RandomEffects.Pool([new(1, 0)])),
        ("pool: variance endless", "effects", () => RandomEffects.Pool([new(1, double.PositiveInfinity)])),
        ("pool: value endless", "effects", () => RandomEffects.Pool([new(double.PositiveInfinity, 1)])),
        ("pool: value no number", "effects", () => RandomEffects.Pool([new(double.NaN, 1)])),
        ("pool: estimator", "between", () => RandomEffects.Pool(Effects, (BetweenVariance)9)),
        ("rate ratio p: first", "first", () => RateRatio.PValue((-1, 1), (1, 1))),
        ("rate ratio p: second", "second", () => RateRatio.PValue((0, 1), (0, double.PositiveInfinity))),
        ("rate ratio: too many", "first", () => RateRatio.Exact((100_000_001, 1), (1, 1))),
        ("rate ratio: level", "level", () => RateRatio.Exact((1, 1), (1, 1), 0)),
        ("rate ratio of none: level", "level", () => RateRatio.Mid((0, 1), (0, 1), 1)),
        ("rate: too many", "events", () => ExactPoisson.Interval(100_000_001, 1)),
        ("rate: below 0", "events", () => ExactPoisson.Interval(-1, 1)),
        ("rate: exposure 0", "exposure", () => ExactPoisson.Interval(1, 0)),
        ("rate: exposure endless", "exposure", () => ExactPoisson.Interval(1, double.PositiveInfinity)),
        ("rate: level 1", "level", () => ExactPoisson.Interval(1, 1, 1)),
        ("rate: level 0", "level", () => ExactPoisson.Interval(0, 1, 0)),
        ("segments: nothing", "series", () => SegmentedRegression.Fit(null!, 1)),
        ("segments: level", "level", () => SegmentedRegression.Fit(Months(Some, Some), 1, 1)),
        ("segments: count", "series", () => SegmentedRegression.Fit(Months(Some, Wrong), 1)),
        ("segments: at the first", "change", () => SegmentedRegression.Fit(Months(Some, Some), 0)),
        ("segments: after the last", "change", () => SegmentedRegression.Fit(Months(Some, Some), 2)),
        ("trend: score endless", "scores", () => Trend.Test([Some, Some], [1, double.PositiveInfinity])),
        ("trend: no number", "scores", () => Trend.Test([Some, Some], [double.NaN, 1])),
        ("trend: count", "group", () => Trend.Test([new(11, 10, 0), Some], [1, 2])),
        ("tables too large, first", "first", () => FisherExact.Test(new(1, 1_000_001, 0), Some)),
        ("tables too large, second", "first", () => FisherExact.Test(Some, new(1, 1_000_001, 0))),
        ("power: nobody", "perGroup", () => TwoProportionPower.Power(0.1, 0.2, 0)),
        ("power: everybody", "perGroup", () => TwoProportionPower.Power(0.1, 0.2, double.PositiveInfinity)),
        ("power: first 0", "second", () => TwoProportionPower.Power(0, 0.2, 10)),
        ("power: first 1", "second", () => TwoProportionPower.Power(1, 0.2, 10)),
        ("power: second 0", "second", () => TwoProportionPower.PerGroup(0.2, 0, 0.8)),
        ("power: second 1", "second", () => TwoProportionPower.PerGroup(0.2, 1, 0.8)),
        ("power: alike", "second", () => TwoProportionPower.PerGroup(0.2, 0.2, 0.8)),
        ("power: wanted 1", "power", () => TwoProportionPower.PerGroup(0.1, 0.2, 1)),
        ("power: wanted 0", "power", () => TwoProportionPower.PerGroup(0.1, 0.2, 0)),
        ("binomial: nobody", "eligible", () => BinomialTest.TwoSided(0, 0, 0.5, 0.5)),
        ("binomial: too many met", "met", () => BinomialTest.TwoSided(3, 2, 0.5, 0.5)),
        ("binomial: 1", "p", () => BinomialTest.TwoSided(1, 2, 1, 0)),
        ("precision: rate", "rate", () => Precision.Cases(1.1, 0.1)),
        ("precision: width 0", "halfWidth", () => Precision.Cases(0.5, 0)),
        ("precision: width one half", "halfWidth", () => Precision.Cases(0.5, 0.5)),
        ("beta-binomial: count", "counts", () => BetaBinomial.Fit([Wrong, Some])),
        ("beta-binomial: one", "counts", () => BetaBinomial.Fit([Some])),
        ("beta-binomial: level", "level", () => BetaBinomial.Shrink([new("A", Some), new("B", new(5, 10, 0))], 1)),
    ];

    [Theory]
    [MemberData(nameof(Refusals))]
    public void What_cannot_be_is_refused_by_name(string name)
    {
        var (_, parameter, call) = Refused.First(refused => refused.Name == name);
        Assert.Equal(parameter, Assert.ThrowsAny<ArgumentException>(call).ParamName);
    }

    [Fact]
    public void What_lies_just_inside_is_taken()
    {
        Assert.Null(AttributeCharts.Rates([0, 1], [0, 1], Whole).Points[0].Value);
        Assert.NotEmpty(AttributeCharts.Proportions([Some], Whole, multiple: 6).Points);
        // More events than exact limits are made for: normal limits take them.
        Assert.NotNull(AttributeCharts.Rates([1, 1], [1e-12, 1], new(0, 1), LimitMethod.Normal).Centre);
        Assert.NotNull(AttributeCharts.Proportions([new(5_000_000_000, 20_000_000_000, 0)], Whole, LimitMethod.Normal).Centre);
        Assert.NotEmpty(RareEventChart.Cases([5, 9], 0, Whole, multiple: 6).Points);
        Assert.NotEmpty(RareEventChart.Times([0, 9], 0, Whole).Points);
        Assert.Equal(2, Phases(new(0, 1, "start"), new(2, 1, "last point")).Length);
        Assert.Equal(2, Phases(new(0, 1, "start"), new(1, 1, "next point")).Length);
        Assert.Equal((0, 0, null), CumulativePoisson.Accumulate([0], [0]) is [var point]
            ? (point.Observed, point.Expected, point.Ratio)
            : default);
        Assert.Equal(0, Overdispersion.Estimate([0, 0], [1, 1], 0).Phi);
        Assert.Equal(4, JamesStein.Shrink([1, 2, 3, 6], 1).Values.Length);
        Assert.Equal(1, MeanCharts.Cusum([1], 0, 0, 0.5).High[0]);
        Assert.Equal(3, MeanCharts.Ewma([3], 0, 1, 1).Points[0].Value);
        Assert.Equal(3, Quantiles.Find([(3, 1), (8, 1)], 0));
        Assert.Equal(8, Quantiles.Find([(3, 1), (8, 1)], 1));
        Assert.Null(Quantiles.Find([(3, 0)], 0.5));
        Assert.NotNull(RateRatio.Exact((100_000_000, 1), (100_000_000, 1)));
        Assert.True(ExactPoisson.Interval(100_000_000, 1).Lower > 9.99e7);
        Assert.NotNull(FisherExact.Test(new(1, 1_000_000, 0), new(1, 1_000_000, 0)));
        Assert.Equal(1, Precision.Cases(0, 0.49));
        Assert.NotNull(SegmentedRegression.Fit(Months(Some, Some), 1).Difference);
    }

    private static Series Months(params Count[] counts) => new(2024, 1, [.. counts]);

    private static ImmutableArray<PhaseChart> Phases(params ChartPhase[] phases) =>
        ChartPhases.Make([Some, Some, Some], [.. phases], (counts, baseline) => AttributeCharts.Proportions(counts, baseline));
}
