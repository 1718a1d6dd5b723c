using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using Outcomes.Ingestion.Traces;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>The inputs of one statistic, read strictly: a wrong, missing or unknown one is a usage failure that names it.</summary>
public sealed partial class ComputeInputs
{
    /// <summary>More than any nation's records: a guard against slips of the finger.</summary>
    public const long MostRecords = 1_000_000_000;

    private const int MostSamples = 100_000;
    private const int MostRows = 100_000;
    private const int MostColumns = 50;

    private readonly string _statistic;
    private readonly JsonObject _json;

    /// <summary>Takes the object after checking its keys against those that the statistic declares.</summary>
    public ComputeInputs(string statistic, JsonObject json, IReadOnlyCollection<ComputeInput> declared)
    {
        _statistic = statistic;
        _json = json;
        foreach (var (name, _) in json)
            if (declared.All(input => input.Name != name))
                throw Wrong(name, $"is not an input: it takes {string.Join(", ", declared.Select(input => input.Name))}");
        foreach (var input in declared)
            if (input.Required && json[input.Name] is null)
                throw Wrong(input.Name, $"is missing ({input.Meaning})");
    }

    /// <summary>A whole number within the range, or <paramref name="otherwise"/> when left out.</summary>
    public long Integer(string name, long least, long most, long? otherwise = null) =>
        _json[name] is null && otherwise is { } value ? value : Integer(name, _json[name], least, most);

    /// <summary>Two-sided or one-sided confidence level, 0.95 when left out.</summary>
    public double Level()
    {
        if (_json["level"] is not { } node)
            return 0.95;
        // Beyond this the interval is that of rounding errors.
        if (Number(node) is >= 1e-6 and <= 1 - 1e-9 and var level)
            return level;
        throw Wrong("level", "must be a number from 0.000001 to 0.999999999, such as 0.95");
    }

    /// <summary>A number within the range, or <paramref name="otherwise"/> when left out.</summary>
    public double Number(string name, double least, double most, double? otherwise = null)
    {
        if (_json[name] is not { } node)
            return otherwise ?? throw Wrong(name, "is missing");
        return Number(node) is { } value && value >= least && value <= most
            ? value
            : throw Wrong(name, $"must be a number from {least} to {most}");
    }

    public bool Flag(string name) => _json[name] switch
    {
        null => false,
        JsonValue value when value.TryGetValue<bool>(out var flag) => flag,
        _ => throw Wrong(name, "must be true or false"),
    };

    /// <summary>A month, or <paramref name="otherwise"/> when left out.</summary>
    public Month Month(string name, Month otherwise)
    {
        if (_json[name] is not { } node)
            return otherwise;
        return Records.Month.TryParse(Text(node), out var month) ? month : throw Wrong(name, "must be a month such as \"2026-03\"");
    }

    /// <summary>One of the given words, the first when left out.</summary>
    public string Choice(string name, params string[] words)
    {
        if (_json[name] is not { } node)
            return words[0];
        return Text(node) is { } word && words.Contains(word) ? word : throw Wrong(name, $"must be one of {string.Join(", ", words)}");
    }

    public bool Has(string name) => _json[name] is not null;

    /// <summary>Met and eligible from the keys of those names.</summary>
    public Count MetOfEligible()
    {
        var eligible = Integer("eligible", 1, MostRecords);
        return new(Integer("met", 0, eligible), eligible, 0);
    }

    /// <summary>A count from an object of met and eligible.</summary>
    public Count Group(string name)
    {
        if (_json[name] is not JsonObject group)
            throw Wrong(name, "must be an object such as {\"met\": 8, \"eligible\": 10}");
        foreach (var (key, _) in group)
            if (key is not ("met" or "eligible"))
                throw Wrong($"{name}.{key}", "is not an input: it takes met, eligible");
        var eligible = Integer($"{name}.eligible", group["eligible"], 1, MostRecords);
        return new(Integer($"{name}.met", group["met"], 0, eligible), eligible, 0);
    }

    /// <summary>Counts from two lists of one length, met and eligible.</summary>
    /// <param name="most">The longest lists allowed.</param>
    /// <param name="each">What has one count: a month, a point, a group or a site.</param>
    /// <param name="names">The names of the two lists.</param>
    public ImmutableArray<Count> Counts(int most, string each = "month", (string Met, string Eligible)? names = null)
    {
        var (first, second) = names ?? ("met", "eligible");
        var (met, eligible) = (List(first, each), List(second, each));
        if (met.Count != eligible.Count)
            throw Wrong(first, $"has {met.Count} {each}s and {second} has {eligible.Count}: they must have as many");
        if (eligible.Count > most)
            throw Wrong(second, $"has {eligible.Count} {each}s, more than {most}");
        return [.. eligible.Select((node, i) =>
        {
            var cases = Integer($"{second}[{i}]", node, 0, MostRecords);
            return new Count(Integer($"{first}[{i}]", met[i], 0, cases), cases, 0);
        })];
    }

    /// <summary>A list of whole numbers within the range.</summary>
    public ImmutableArray<long> WholeNumbers(string name, long least, long most, int longest) =>
        [.. Items(name, longest).Select((node, i) => Integer($"{name}[{i}]", node, least, most))];

    /// <summary>A list of numbers within the range.</summary>
    public ImmutableArray<double> Numbers(string name, double least, double most, int longest) =>
        [.. Items(name, longest).Select((node, i) => NumberIn($"{name}[{i}]", node, least, most))];

    /// <summary>The same, with null for a gap.</summary>
    public ImmutableArray<double?> NumbersAndGaps(string name, double least, double most, int longest) =>
        [.. Items(name, longest).Select((node, i) => node is null ? (double?)null : NumberIn($"{name}[{i}]", node, least, most))];

    /// <summary>A list of texts, or null when left out.</summary>
    public ImmutableArray<string>? Texts(string name, int longest) =>
        Has(name) ? [.. Items(name, longest)
            .Select((node, i) => (node is null ? null : Text(node)) ?? throw Wrong($"{name}[{i}]", "must be a text"))] : null;

    /// <summary>Samples from a list of pairs of seconds and value, in any order; none when left out.</summary>
    public Sample[] Samples(string name)
    {
        if (_json[name] is not { } node)
            return [];
        if (node is not JsonArray list || list.Count > MostSamples)
            throw Wrong(name, $"must be a list of at most {MostSamples} pairs such as [[0, 97], [10, 96]]");
        return [.. list.Select((pair, i) =>
            pair is JsonArray { Count: 2 } both && both[0] is { } at && Number(at) is >= -3600 and <= 86_400 and var seconds
                && (both[1] is null || Number(both[1]!) is not null)
                ? new Sample((int)Math.Round(seconds * 1000), both[1] is null ? double.NaN : Number(both[1]!)!.Value)
                : throw Wrong($"{name}[{i}]", "must be a pair of seconds from -3600 to 86400 and a number or null"))
            .OrderBy(sample => sample.Ms)];
    }

    /// <summary>A list of numbers within the range, at least one.</summary>
    public double[] Numbers(string name, double least, double most)
    {
        if (_json[name] is not JsonArray { Count: > 0 and <= MostRows } list)
            throw Wrong(name, $"must be a list of 1 to {MostRows} numbers");
        return [.. list.Select((node, i) => node is not null && Number(node) is { } value && value >= least && value <= most
            ? value
            : throw Wrong($"{name}[{i}]", $"must be a number from {least} to {most}"))];
    }

    /// <summary>Outcomes, 1 for met and 0 for not, as many as <paramref name="records"/>.</summary>
    public bool[] Outcomes(string name, int records)
    {
        var list = Numbers(name, 0, 1);
        if (list.Length != records)
            throw Wrong(name, $"has {list.Length} outcomes for {records} records: it must have as many");
        return [.. list.Select((value, i) => value is 0 or 1 ? value == 1 : throw Wrong($"{name}[{i}]", "must be 0 or 1"))];
    }

    /// <summary>Rows of numbers, all of one length; of no length at all, too.</summary>
    public double[][] Rows(string name)
    {
        if (_json[name] is not JsonArray { Count: > 0 and <= MostRows } list)
            throw Wrong(name, $"must be a list of 1 to {MostRows} rows, each a list of numbers such as [[54, 1], [61, 0]]");
        double[][] rows = [.. list.Select((node, i) => node is JsonArray row
            ? row.Select(cell => cell is not null && Number(cell) is { } value ? value : throw Wrong($"{name}[{i}]",
                "must hold numbers only")).ToArray()
            : throw Wrong($"{name}[{i}]", "must be a list of numbers"))];
        if (Array.FindIndex(rows, row => row.Length != rows[0].Length) is var odd and >= 0)
            throw Wrong($"{name}[{odd}]", $"has {rows[odd].Length} numbers and {name}[0] has {rows[0].Length}: they must have as many");
        return rows[0].Length <= MostColumns ? rows : throw Wrong(name, $"have {rows[0].Length} numbers each, more than {MostColumns}");
    }

    public Failure Wrong(string name, string what) => new(ExitCode.Usage, $"compute {_statistic}: {name} {what}");

    private JsonArray Items(string name, int longest)
    {
        if (_json[name] is not JsonArray list)
            throw Wrong(name, "must be a list");
        return list.Count <= longest ? list : throw Wrong(name, $"has {list.Count} entries, more than {longest}");
    }

    private double NumberIn(string name, JsonNode? node, double least, double most) =>
        node is not null && Number(node) is { } value && value >= least && value <= most
            ? value
            : throw Wrong(name, $"must be a number from {least} to {most}");

    private JsonArray List(string name, string each) =>
        _json[name] as JsonArray ?? throw Wrong(name, $"must be a list of whole numbers, one a {each}");

    private long Integer(string name, JsonNode? node, long least, long most) =>
        node is JsonValue value && value.TryGetValue<long>(out var number) && number >= least && number <= most
            ? number
            : throw Wrong(name, $"must be a whole number from {least} to {most}");

    private static double? Number(JsonNode node) =>
        node is JsonValue value && value.GetValueKind() == JsonValueKind.Number && value.TryGetValue<double>(out var number)
            && double.IsFinite(number) ? number : null;

    private static string? Text(JsonNode node) => node is JsonValue value && value.TryGetValue<string>(out var text) ? text : null;
}
