using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Published examples of control charts, funnel plots, shrinkage and pooling, to their printed digits.</summary>
public class ChartCheckTests
{
    private const string File = "charts.json";

    public static TheoryData<string> Published => Check.Ids(File);

    public static TheoryData<string> RunsOfSix => Check.Ids("run_of_six.json");

    [Theory]
    [MemberData(nameof(Published))]
    public void Equals_the_published_value(string id)
    {
        var check = Check.Find(File, id);
        check.Holds([.. (check.Statistic switch
        {
            "p_normal" => Chart(Proportions(check, LimitMethod.Normal)),
            "p_laney" => Chart(Proportions(check, LimitMethod.Laney)),
            "c_normal" => Chart(Rates(check, [.. Counts(check).Select(_ => 1.0)])),
            "u_normal" => Chart(Rates(check, [.. Numbers(check, "units")])),
            "individuals" => Individuals(check),
            "t_nelson" => Nelson(check),
            "ewma" => Ewma(check),
            "cusum" => Cusum(check),
            "learning_curve" => LearningCurveLimits(check),
            "competence" => Competence(check),
            "funnel_interpolated" => Interpolated(check),
            "dispersion" => Dispersion(check),
            "beta_binomial" => BetaBinomialOf(check),
            "james_stein" => JamesSteinOf(check, arcsine: false),
            "james_stein_arcsine" => JamesSteinOf(check, arcsine: true),
            "pool_dl" => Pool(check, BetweenVariance.DerSimonianLaird),
            "pool_reml" => Pool(check, BetweenVariance.Reml),
            "pool_fe" => Pool(check, BetweenVariance.None),
            _ => throw new InvalidOperationException($"{id}: no such statistic, {check.Statistic}"),
        })]);
    }

    [Theory]
    [MemberData(nameof(RunsOfSix))]
    public void A_run_of_six_is_as_likely_as_enumeration_says(string id)
    {
        var check = Check.Find("run_of_six.json", id);
        check.Holds(("chance", LongestRunAndCrossings.Chance((int)check.Integer("useful"), 5, 0)));
    }

    [Fact]
    public void The_factors_are_the_closed_forms_rounded()
    {
        // The mean range of two standard normal values is 2/√π; its standard deviation is √(2 − 4/π).
        var mean = 2 / Math.Sqrt(Math.PI);
        Assert.Equal(AttributeCharts.MeanRangeOfTwo, mean, 5e-4);
        Assert.Equal(IndividualsCharts.ValueFactor, 3 / mean, 5e-3);
        Assert.Equal(IndividualsCharts.RangeFactor, 1 + (3 * Math.Sqrt(2 - (4 / Math.PI)) / mean), 6e-4);
    }

    [Fact]
    public void Shrinking_brings_the_batting_averages_three_and_a_half_times_nearer_the_truth()
    {
        // Efron B, Morris C. Sci Am 1977;236(5):119-127: seasons' averages of the 18 players, whose ratio of squared errors is printed as
        // 3.5 (from memory).
        double[] season = [.346, .298, .276, .222, .273, .270, .263, .210, .269, .230, .264, .256, .303, .264, .226, .285, .316, .200];
        double[] early = [.. Counts(Check.Find(File, "9.js.baseball"), "hits").Select(hits => hits / 45.0)];
        var mean = early.Average();
        var shrunk = JamesStein.Shrink([.. early], mean * (1 - mean) / 45).Values;
        var ratio = early.Zip(season, (value, truth) => Math.Pow(value - truth, 2)).Sum()
            / shrunk.Zip(season, (value, truth) => Math.Pow(value - truth, 2)).Sum();
        Assert.Equal(3.5, ratio, 0.06);
    }

    [Fact]
    public void The_batting_averages_have_a_prior_of_about_793_at_bats()
    {
        // Computed by a simplex search in Python: a + b = 210.55 + 582.69. The likelihood is flat, so 5 %.
        var prior = BetaBinomial.Fit([.. Counts(Check.Find(File, "9.bb.baseball"), "hits").Select(hits => new Count(hits, 45, 0))]);
        Assert.InRange(1 / prior.Spread, 793.24 * 0.95, 793.24 * 1.05);
    }

    private static double[] Numbers(Check check, string name) =>
        [.. check.Inputs[name]!.AsArray().Select(node => node!.GetValue<double>())];

    private static double Number(Check check, string name) => check.Inputs[name]!.GetValue<double>();

    private static long[] Counts(Check check, string name = "counts") => [.. Numbers(check, name).Select(number => (long)number)];

    private static ControlChart Proportions(Check check, LimitMethod method)
    {
        var counts = Counts(check);
        return AttributeCharts.Proportions([.. counts.Select(count => new Count(count, check.Integer("n"), 0))],
            new(0, counts.Length), method);
    }

    private static ControlChart Rates(Check check, ImmutableArray<double> units) =>
        AttributeCharts.Rates([.. Counts(check)], units, new(0, units.Length), LimitMethod.Normal);

    private static IEnumerable<(string, double)> Chart(ControlChart chart) =>
    [
        ("centre", chart.Centre!.Value), ("lower", chart.Points[0].Lower!.Value), ("upper", chart.Points[0].Upper!.Value),
        ("variation", chart.Variation!.Value), ("out", chart.Beyond.Count()), .. chart.Beyond.Select((position, i) => ($"out_{i + 1}",
            position + 1.0)), .. chart.Points.Select((point, i) => ($"lower_{i + 1}", point.Lower!.Value)),
        .. chart.Points.Select((point, i) => ($"upper_{i + 1}", point.Upper!.Value)),
    ];

    private static IEnumerable<(string, double)> Individuals(Check check)
    {
        var (values, ranges) = IndividualsCharts.Analyse([.. Numbers(check, "x").Select(x => (double?)x)], new(0, 10));
        return [("centre", values.Centre!.Value), ("range", ranges.Centre!.Value), ("lower", values.Points[0].Lower!.Value),
            ("upper", values.Points[0].Upper!.Value), ("range_upper", ranges.Points[1].Upper!.Value)];
    }

    private static IEnumerable<(string, double)> Nelson(Check check)
    {
        var times = Numbers(check, "x");
        var chart = RareEventChart.TransformedTimes([.. times], null, new(0, 20));
        double To(double time) => Math.Pow(time, RareEventChart.NelsonPower);
        return [("centre", To(chart.Centre!.Value)), ("upper", To(chart.Points[0].Upper!.Value)), ("lower", chart.Points[0].Lower!.Value),
            ("y1", To(times[0])), ("y11", To(times[10])), ("y20", To(times[19]))];
    }

    private static IEnumerable<(string, double)> Ewma(Check check)
    {
        var chart = MeanCharts.Ewma(Numbers(check, "x"), Number(check, "target"), Number(check, "deviation"), Number(check, "weight"));
        return [.. chart.Points.Select((point, i) => ($"e{i + 1}", point.Value!.Value)), ("lower", chart.Points[0].Lower!.Value),
            ("upper", chart.Points[0].Upper!.Value)];
    }

    private static IEnumerable<(string, double)> Cusum(Check check)
    {
        var cusum = MeanCharts.Cusum(Numbers(check, "x"), Number(check, "target"), Number(check, "allowance"), Number(check, "limit"));
        return [.. cusum.High.Select((sum, i) => ($"high_{i + 1}", sum)), ("signal", cusum.SignalAt!.Value + 1)];
    }

    private static IEnumerable<(string, double)> LearningCurveLimits(Check check)
    {
        var sums = LearningCurve.Follow([true, false], Number(check, "acceptable"), Number(check, "unacceptable"),
            Number(check, "alpha"), Number(check, "beta"));
        Assert.Equal([sums.Failure, sums.Failure + sums.Success], sums.Sums);
        Assert.Equal(1, sums.Failure - sums.Success, 1e-14);
        return [("s", -sums.Success), ("h0", -sums.Lower), ("h1", sums.Upper)];
    }

    private static IEnumerable<(string, double)> Competence(Check check)
    {
        var scores = LearningCurve.Competence([false, true], Number(check, "acceptable"), Number(check, "unacceptable"));
        return [("success", scores[0]), ("after", scores[1])];
    }

    private static IEnumerable<(string, double)> Interpolated(Check check) =>
        new[] { 0.001, 0.025, 0.975, 0.999 }.Select(p => ($"p{p}", Funnels.Interpolated(Number(check, "target"), check.Integer("n"), p)));

    private static IEnumerable<(string, double)> Dispersion(Check check)
    {
        var z = Numbers(check, "z");
        var dispersion = Overdispersion.Estimate(z, [.. z.Select(_ => 1.0)]);
        return [("lower", dispersion.Lower), ("upper", dispersion.Upper), ("phi", dispersion.Phi)];
    }

    private static IEnumerable<(string, double)> BetaBinomialOf(Check check)
    {
        var shrunk =
            BetaBinomial.Shrink([.. Counts(check, "hits").Select((hits, i) => new GroupCount($"{i}", new(hits, check.Integer("n"), 0)))]);
        return [("mean", shrunk.Prior.Mean), ("first", shrunk.Groups[0].Value), ("second", shrunk.Groups[1].Value),
            ("third", shrunk.Groups[2].Value)];
    }

    private static IEnumerable<(string, double)> JamesSteinOf(Check check, bool arcsine)
    {
        var n = check.Integer("n");
        double[] values = [.. Counts(check, "hits").Select(hits => (double)hits / n)];
        var mean = values.Average();
        // At bats on the arcsine scale have variance 1; as proportions, that of the mean proportion.
        var shrunk = arcsine
            ? JamesStein.Shrink([.. values.Select(value => Math.Sqrt(n) * Math.Asin((2 * value) - 1))], 1)
            : JamesStein.Shrink([.. values], mean * (1 - mean) / n);
        return [("mean", shrunk.Mean), ("factor", shrunk.Factor), ("first", shrunk.Values[0]), ("last", shrunk.Values[^1])];
    }

    private static IEnumerable<(string, double)> Pool(Check check, BetweenVariance between)
    {
        var (tpos, tneg, cpos, cneg) = (Numbers(check, "tpos"), Numbers(check, "tneg"), Numbers(check, "cpos"), Numbers(check, "cneg"));
        var pooled = RandomEffects.Pool(
            [.. tpos.Select((t, i) => new Effect(
                Math.Log(t / (t + tneg[i]) / (cpos[i] / (cpos[i] + cneg[i]))),
                (1 / t) - (1 / (t + tneg[i])) + (1 / cpos[i]) - (1 / (cpos[i] + cneg[i]))))],
            between);
        return
        [
            ("value", pooled.Value), ("error", pooled.Error), ("lower", pooled.Within.Lower), ("upper", pooled.Within.Upper),
            ("tau2", pooled.TauSquared), ("i2", pooled.ISquared!.Value), ("q", pooled.Q),
        ];
    }
}
