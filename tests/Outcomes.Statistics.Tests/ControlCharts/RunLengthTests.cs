using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>
/// How many values a chart with memory takes until it signals, by simulation of the chart itself against published mean run lengths:
/// independent normal values of standard deviation 1, whose mean is the shift given.
/// </summary>
public class RunLengthTests
{
    private const string File = "run_lengths.json";
    private const int Runs = 2_000;

    private static readonly Lazy<double[]> Normals = new(() =>
    {
        var uniform = SplitMix64.Uniform(20_260_701);
        // The smallest number that the generator gives is 0, where the quantile is infinite.
        return [.. Enumerable.Range(0, 1_300_000)
            .Select(_ => MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, Math.Max(uniform(), 1e-17)))];
    });

    public static TheoryData<string> Published => Check.Ids(File);

    [Theory]
    [MemberData(nameof(Published))]
    public void The_mean_run_length_is_the_published_one_within_four_standard_errors(string id)
    {
        var check = Check.Find(File, id);
        var expected = Number(check.Expected, "mean_run_length");
        double[] lengths = [.. Simulate(check, expected)];
        var mean = lengths.Average();
        var error = Math.Sqrt(lengths.Sum(length => Math.Pow(length - mean, 2))) / Runs;
        Assert.True(Math.Abs(mean - expected) <= 4 * error, $"{id}: {mean} ± {error}, published {expected} ({check.Source})");
        Assert.True(error < 0.03 * expected, $"{id}: a standard error of {error} tells little");
    }

    /// <summary>Each run starts anew with the value after the last signal.</summary>
    private static IEnumerable<double> Simulate(Check check, double expected)
    {
        double[] values = [.. Normals.Value.Select(value => value + Number(check.Inputs, "shift"))];
        var from = 0;
        for (var run = 0; run < Runs; run++)
        {
            int? signal = null;
            for (var window = (int)(3 * expected) + 1; signal is null; window *= 2)
                signal = FirstSignal(check, values.AsSpan(from, window));
            from += signal.Value + 1;
            yield return signal.Value + 1;
        }
    }

    private static int? FirstSignal(Check check, ReadOnlySpan<double> values) => check.Statistic switch
    {
        "cusum" => MeanCharts.Cusum(values, 0, Number(check.Inputs, "allowance"), Number(check.Inputs, "limit")).SignalAt,
        "ewma" => MeanCharts.Ewma(values, 0, 1, Number(check.Inputs, "weight"), Number(check.Inputs, "multiple")).Beyond
            .Select(position => (int?)position).FirstOrDefault(),
        _ => throw new InvalidOperationException($"{check.Id}: no such chart, {check.Statistic}"),
    };

    private static double Number(System.Text.Json.Nodes.JsonObject of, string name) => of[name]!.GetValue<double>();
}
