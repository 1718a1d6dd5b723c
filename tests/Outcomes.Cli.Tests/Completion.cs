using Outcomes.Records;

namespace Outcomes.Tests.Cli;

/// <summary>
/// What a key needs beside it: a value belongs to a quantity, blanked fields to the severity blank, the decimals to a number.
/// </summary>
internal static class Completion
{
    public static IReadOnlyList<Pair> Of(string kind, IReadOnlyList<Pair> pairs) => kind switch
    {
        "measure" => Measure(pairs),
        "rule" when Has(pairs, "blanks") => With(pairs, "severity", "blank"),
        "fields" when !Has(pairs, "fields") =>
            With(pairs, "fields", """[{"name": "x", "type": "string", "outcomes:identifying": "none"}]"""),
        "fields field" => Field(pairs),
        "section" => Section(pairs),
        "action" or "minutes actions" when Has(pairs, "measure_by") => With(pairs, "measure", "\"first_pass\""),
        "fields missingValues" when !Has(pairs, "label") => With(pairs, "label", "\"unknown\""),
        _ => pairs,
    };

    private static IReadOnlyList<Pair> Measure(IReadOnlyList<Pair> pairs)
    {
        if (Has(pairs, "value")) return With(pairs, "kind", "quantity");
        if (pairs.Any(pair => pair is { Key: "kind", Value: "quantity" })) return With(pairs, "value", "spo2_min");
        if (Has(pairs, "decimals")) return With(With(pairs, "kind", "quantity"), "value", "spo2_min");
        return Has(pairs, "met") ? pairs : With(pairs, "met", "first_pass");
    }

    // Measures or agreement, never both; what splits needs strata.
    private static IReadOnlyList<Pair> Section(IReadOnlyList<Pair> pairs)
    {
        if (Has(pairs, "agreement")) return pairs;
        var with = Has(pairs, "measures") ? pairs : With(pairs, "measures", "[first_pass]");
        return Has(with, "strata") ? with : With(with, "strata", "[shocked_before]");
    }

    // The type that has the keys named, and the keys that this type cannot be without.
    private static IReadOnlyList<Pair> Field(IReadOnlyList<Pair> pairs)
    {
        var type = Enum.GetValues<FieldType>().FirstOrDefault(
            each => each is not FieldType.Integer && pairs.Any(pair => DictionaryKeys.FieldOf(each).Contains(pair.Key)
                && !DictionaryKeys.FieldOf(FieldType.Integer).Contains(pair.Key)),
            FieldType.Integer);
        if (pairs.Any(pair => pair is { Key: "type", Value: "\"number\"" })) type = FieldType.Number;
        Pair[] needed = type switch
        {
            FieldType.Code => [new("type", "\"string\""), new("categories", "[\"left\", \"right\"]")],
            FieldType.Set => [new("type", "\"list\""), new("delimiter", "\";\""), new("outcomes:allowed", "[\"suction\", \"bougie\"]")],
            FieldType.YesNo => [new("type", "\"boolean\""), new("trueValues", "[\"yes\"]"), new("falseValues", "[\"no\"]")],
            FieldType.Number => [new("type", "\"number\""), new("outcomes:decimals", "1")],
            FieldType.Time => [new("type", "\"time\""), new("format", "\"%H:%M\"")],
            _ => [],
        };
        return [.. pairs.Where(pair => pair.Key != "type" || needed.Length == 0),
            .. needed.Where(pair => pair.Key == "type" || !Has(pairs, pair.Key))];
    }

    private static bool Has(IReadOnlyList<Pair> pairs, string key) => pairs.Any(pair => pair.Key == key);

    private static Pair[] With(IReadOnlyList<Pair> pairs, string key, string value) => [
        .. pairs.Where(pair => pair.Key != key), new(key, value)
    ];
}
