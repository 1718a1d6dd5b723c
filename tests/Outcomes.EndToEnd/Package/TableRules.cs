using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// What a Table Schema descriptor promises of a table's cells, judged cell by cell: types, constraints and keys as the Table Schema
/// standard, version 2, defines them (datapackage.org/standard/table-schema). Written from its text, apart from the tool.
/// </summary>
internal static class TableRules
{
    private static readonly string[] UsualTrue = ["true", "True", "TRUE", "1"], UsualFalse = ["false", "False", "FALSE", "0"];

    /// <summary>What is broken, the first few of each column; nothing where all holds.</summary>
    /// <param name="schema">The descriptor.</param>
    /// <param name="names">The table's columns, in order.</param>
    /// <param name="rows">Its rows; an empty cell is no value.</param>
    public static List<string> Broken(JsonNode schema, IReadOnlyList<string> names, IReadOnlyList<string?[]> rows)
    {
        var fields = schema["fields"]!.AsArray();
        if (!fields.Select(field => Text(field!["name"])).SequenceEqual(names))
            return [$"columns: {string.Join(',', names)}"];
        var broken = new List<string>();
        for (var i = 0; i < names.Count; i++)
            broken.AddRange(rows.Select(row => Wrong(fields[i]!, row[i])).OfType<string>().Distinct().Take(3)
                .Select(why => $"{names[i]}: {why}"));
        if (schema["primaryKey"] is JsonArray key && Keys(key, names, rows) is var keys && keys.Distinct().Count() != keys.Count)
            broken.Add($"primaryKey: {keys.Count - keys.Distinct().Count()} rows repeat a key");
        return broken;
    }

    /// <summary>The values of some columns, row by row.</summary>
    public static List<string> Keys(JsonArray key, IReadOnlyList<string> names, IReadOnlyList<string?[]> rows)
    {
        var places = key.Select(name => names.ToList().IndexOf(Text(name))).ToArray();
        return [.. rows.Select(row => string.Join('\u001f', places.Select(place => row[place])))];
    }

    private static string? Wrong(JsonNode field, string? cell)
    {
        var constraints = field["constraints"];
        if (string.IsNullOrEmpty(cell))
            return constraints?["required"]?.GetValue<bool>() == true ? "empty" : null;
        return HasType(field, cell) ? Outside(constraints, cell) : $"`{cell}` is no {Text(field["type"])}";
    }

    private static bool HasType(JsonNode field, string cell) => Text(field["type"]) switch
    {
        "string" => true,
        "integer" => Regex.IsMatch(cell, @"^[+-]?\d+$"),
        "number" => Regex.IsMatch(cell, @"^[+-]?\d+(\.\d+)?([eE][+-]?\d+)?$"),
        "boolean" => Words(field["trueValues"], UsualTrue).Concat(Words(field["falseValues"], UsualFalse)).Contains(cell),
        "date" => DateOnly.TryParseExact(cell, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _),
        "yearmonth" => Regex.IsMatch(cell, @"^\d{4}-(0[1-9]|1[0-2])$"),
        var other => throw new InvalidOperationException($"no rule for {other}"),
    };

    private static string? Outside(JsonNode? constraints, string cell)
    {
        if (constraints?["enum"] is JsonArray allowed && !allowed.Any(value => Text(value) == cell))
            return $"`{cell}` is not in enum";
        if (constraints?["pattern"] is { } pattern && !Regex.IsMatch(cell, Text(pattern)))
            return $"`{cell}` does not match the pattern";
        return Compare(constraints?["minimum"], cell) < 0 ? $"`{cell}` is below the minimum"
            : Compare(cell, constraints?["maximum"]) < 0 ? $"`{cell}` is above the maximum"
            : null;
    }

    // Below zero where the cell lies on the wrong side of the end; dates in ISO 8601 compare as texts.
    private static int Compare(JsonNode? least, string cell) => least is null ? 0 : Order(cell, Text(least));

    private static int Compare(string cell, JsonNode? most) => most is null ? 0 : Order(Text(most), cell);

    private static int Order(string left, string right) =>
        double.TryParse(left, CultureInfo.InvariantCulture, out var one)
            && double.TryParse(right, CultureInfo.InvariantCulture, out var other)
            ? one.CompareTo(other)
            : string.CompareOrdinal(left, right);

    private static IEnumerable<string> Words(JsonNode? given, string[] usual) =>
        given is JsonArray words ? words.Select(Text) : usual;

    private static string Text(JsonNode? node) => node!.ToString();
}
