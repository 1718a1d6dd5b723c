using System.Text.Json.Nodes;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>The inputs that are lists or objects, read as strictly as single ones.</summary>
public sealed partial class ComputeInputs
{
    /// <summary>The most values in one list.</summary>
    public const int MostValues = 100_000;

    /// <summary>Whole numbers, none below 0 and each at most <paramref name="each"/>.</summary>
    public long[] Integers(string name, int least, int most, long each)
    {
        var list = Items(name, least, most, "whole numbers");
        return [.. list.Select((node, i) => Integer($"{name}[{i}]", node, 0, each))];
    }

    /// <summary>Finite numbers, at least one.</summary>
    public double[] NumberList(string name)
    {
        var list = Items(name, 1, MostValues, "numbers");
        return [.. list.Select((node, i) => node is not null && Number(node) is { } value && Math.Abs(value) <= 1e15
            ? value
            : throw Wrong($"{name}[{i}]", "must be a number from -1e15 to 1e15"))];
    }

    /// <summary>Counts, objects of met and eligible; eligible may be 0 in a list.</summary>
    public Count[] Groups(string name, int least, int most)
    {
        var list = Items(name, least, most, "objects such as {\"met\": 8, \"eligible\": 10}");
        return [.. list.Select((node, i) => Pair($"{name}[{i}]", node))];
    }

    /// <summary>A square of whole numbers with at least one record.</summary>
    public long[][] Table(string name)
    {
        var list = Items(name, 2, 50, "lists of whole numbers");
        long[][] rows = [.. list.Select((row, i) => row is JsonArray cells && cells.Count == list.Count
            ? cells.Select((cell, j) => Integer($"{name}[{i}][{j}]", cell, 0, 1_000_000)).ToArray()
            : throw Wrong($"{name}[{i}]", $"must be a list of {list.Count} whole numbers, for the table is a square"))];
        return rows.Any(row => row.Sum() > 0) ? rows : throw Wrong(name, "must hold at least one record");
    }

    /// <summary>Rows of equal length of whole numbers, 2 to 50 rows and columns.</summary>
    public long[][] Rectangle(string name)
    {
        var list = Items(name, 2, 50, "lists of whole numbers");
        if (list[0] is not JsonArray { Count: >= 2 and <= 50 } first)
            throw Wrong($"{name}[0]", "must be a list of 2 to 50 whole numbers");
        return [.. list.Select((row, i) => row is JsonArray cells && cells.Count == first.Count
            ? cells.Select((cell, j) => Integer($"{name}[{i}][{j}]", cell, 0, 1_000_000)).ToArray()
            : throw Wrong($"{name}[{i}]", $"must be a list of {first.Count} whole numbers, as the first row is"))];
    }

    /// <summary>Events over an exposure.</summary>
    public (long Events, double Exposure) Rate(string name)
    {
        var rate = Members(name, _json[name], "{\"events\": 11, \"exposure\": 800}", "events", "exposure");
        var exposure = rate["exposure"] is { } node && Number(node) is { } value && value is >= 1e-9 and <= 1e12
            ? value
            : throw Wrong($"{name}.exposure", "must be a number from 1E-09 to 1000000000000");
        return (Integer($"{name}.events", rate["events"], 0, 50_000_000), exposure);
    }

    /// <summary>A proportion above 0 and below 1.</summary>
    public double Share(string name) =>
        _json[name] is { } node && Number(node) is { } value && value is > 0 and < 1
            ? value
            : throw Wrong(name, "must be a number above 0 and below 1");

    private Count Pair(string name, JsonNode? node)
    {
        var group = Members(name, node, "{\"met\": 8, \"eligible\": 10}", "met", "eligible");
        var eligible = Integer($"{name}.eligible", group["eligible"], 0, 1_000_000);
        return new(Integer($"{name}.met", group["met"], 0, eligible), eligible, 0);
    }

    private JsonObject Members(string name, JsonNode? node, string example, params string[] keys)
    {
        if (node is not JsonObject members)
            throw Wrong(name, $"must be an object such as {example}");
        foreach (var (key, _) in members)
            if (!keys.Contains(key))
                throw Wrong($"{name}.{key}", $"is not an input: it takes {string.Join(", ", keys)}");
        return members;
    }

    private JsonArray Items(string name, int least, int most, string what) =>
        _json[name] is JsonArray list && list.Count >= least && list.Count <= most
            ? list
            : throw Wrong(name, $"must be a list of {least} to {most} {what}");
}
