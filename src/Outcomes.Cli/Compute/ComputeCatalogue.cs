using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using Outcomes.Records;

namespace Outcomes.Cli.Compute;

/// <summary>Every statistic that <c>outcomes compute</c> knows by name.</summary>
public static class ComputeCatalogue
{
    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        .. ProportionStatistics.All, .. IntervalStatistics.All, .. TwoGroupStatistics.All, .. PooledStatistics.All,
        .. RunChartStatistics.All, .. SignalStatistics.All, .. ControlChartStatistics.All, .. SequenceStatistics.All,
        .. GroupStatistics.All, .. ExactStatistics.All, .. TraceStatistics.All, .. CaseMixStatistics.All,
    ];

    /// <summary>The statistic on inputs written as JSON text; no text is an empty object.</summary>
    /// <exception cref="Failure">Usage: no such statistic, no JSON object, or an input that is wrong, missing or unknown; it names
    /// which.</exception>
    public static JsonObject Run(string name, string? json)
    {
        JsonNode? node;
        try
        {
            node = JsonNode.Parse(json ?? "{}", documentOptions: new() { AllowDuplicateProperties = false, MaxDepth = 8 });
        }
        catch (JsonException error)
        {
            throw new Failure(
                ExitCode.Usage,
                $"compute {name}: the inputs are not valid JSON, or name a key twice, near character {(error.BytePositionInLine ?? 0) + 1} "
                + $"of line {(error.LineNumber ?? 0) + 1}; "
                + $"give an object such as {Find(name).Example}");
        }
        return node is JsonObject inputs
            ? Run(name, inputs)
            : throw new Failure(ExitCode.Usage, $"compute {name}: the inputs must be a JSON object such as {Find(name).Example}");
    }

    /// <summary>The statistic on the given inputs: numbers to 12 significant digits, with the method's source.</summary>
    /// <exception cref="Failure">Usage: no such statistic, or an input that is wrong, missing or unknown; it names which.</exception>
    public static JsonObject Run(string name, JsonObject inputs)
    {
        var statistic = Find(name);
        var result = new JsonObject { ["statistic"] = statistic.Name };
        foreach (var (key, value) in statistic.Compute(new(name, inputs, statistic.Inputs)))
            result[key] = value?.DeepClone();
        result["source"] = statistic.Source;
        return result;
    }

    private static ComputeStatistic Find(string name) =>
        All.FirstOrDefault(statistic => statistic.Name == name)
        ?? throw new Failure(ExitCode.Usage,
            $"compute: there is no statistic {name}; there are {string.Join(", ", All.Select(statistic => statistic.Name))}");
}
