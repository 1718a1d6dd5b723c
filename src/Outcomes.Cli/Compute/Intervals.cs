using System.Text.Json.Nodes;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>Estimates as the objects that <c>compute</c> prints.</summary>
internal static class Intervals
{
    /// <summary>
    /// A value with its interval; without one where the method says why, or where its ends fall together: a formula whose error is 0 in a
    /// few records is no certainty.
    /// </summary>
    public static JsonObject Of(double value, double lower, double upper, double level, string? why = null)
    {
        why ??= lower < upper ? null : NoInterval.NoError;
        JsonObject result = new()
        {
            ["value"] = End(value),
            ["lower"] = why is null ? End(lower) : null,
            ["upper"] = why is null ? End(upper) : null,
            ["level"] = Numbers.Of(level),
        };
        return Why(result, why);
    }

    public static JsonObject Of(Estimate estimate) => Of(estimate.Value, estimate.Lower, estimate.Upper, estimate.Level);

    public static JsonObject Of(DifferenceEstimate estimate) =>
        Of(estimate.Value, estimate.Lower, estimate.Upper, estimate.Level, estimate.WhyNoInterval);

    public static JsonObject Of(RatioEstimate estimate) =>
        Of(estimate.Value, estimate.Lower, estimate.Upper, estimate.Level, estimate.WhyNoInterval);

    /// <summary>The result with the reason why it has no interval, where there is one.</summary>
    public static JsonObject Why(JsonObject result, string? why)
    {
        if (why is not null)
            result["why_no_interval"] = why;
        return result;
    }

    /// <summary>Lower and upper ends of several categories, in their order.</summary>
    public static JsonObject Of(IReadOnlyList<long> counts, IReadOnlyList<Bounds> bounds, double level)
    {
        double total = counts.Sum();
        return new()
        {
            ["values"] = new JsonArray([.. counts.Select(count => Numbers.Of(count / total))]),
            ["lower"] = new JsonArray([.. bounds.Select(ends => Numbers.Of(ends.Lower))]),
            ["upper"] = new JsonArray([.. bounds.Select(ends => Numbers.Of(ends.Upper))]),
            ["level"] = Numbers.Of(level),
        };
    }

    public static JsonObject Of(TestResult? test) => new()
    {
        ["chi_square"] = Numbers.Of(test?.Statistic),
        ["degrees_of_freedom"] = test?.DegreesOfFreedom,
        ["p"] = Numbers.Of(test?.PValue),
    };

    /// <summary>A number; <c>"infinity"</c> where there is no bound, null where there is no value. JSON has neither.</summary>
    private static JsonNode? End(double value) => double.IsNaN(value) ? null : double.IsInfinity(value) ? "infinity" : Numbers.Of(value);
}
