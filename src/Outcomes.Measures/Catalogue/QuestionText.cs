using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Measures.Catalogue;

/// <summary>
/// A question as text: the query of a link (<c>measure=first_pass&amp;by=device</c>) and a file <c>questions/*.yaml</c>, by the same keys.
/// </summary>
public static class QuestionText
{
    /// <summary>A longer question is no question.</summary>
    public const int Longest = 4_000;

    public static readonly YamlKeys Keys = new("question", "title", "measure", "from", "to", "among", "by", "versus", "versus_from",
        "versus_to", "points");

    /// <summary>Reads the query of a link; keys that are none of a question are left alone.</summary>
    /// <exception cref="Failure">A value is wrong (exit 2).</exception>
    public static QuestionDefinition Parse(string query)
    {
        ArgumentNullException.ThrowIfNull(query);
        if (query.Length > Longest) throw Wrong($"a question has at most {Longest} characters");
        var values = query.TrimStart('?').Split('&', StringSplitOptions.RemoveEmptyEntries)
            .Select(pair => pair.Split('=', 2))
            .ToLookup(pair => pair[0], pair => pair.Length < 2 ? "" : Uri.UnescapeDataString(pair[1].Replace('+', ' ')));
        return Of(key => values[key].LastOrDefault() ?? "", [.. values["by"].SelectMany(Words)], (_, message) => Wrong(message));
    }

    /// <summary>Reads a file.</summary>
    /// <exception cref="Failure">The file is missing or wrong (exit 3, file and line).</exception>
    public static QuestionDefinition Read(string path, string shown)
    {
        var map = YamlFile.ReadPath(path, shown).Map(Keys);
        ImmutableArray<string> by = map.Optional("by") is { } node ? [.. node.Items().Select(item => item.Text())] : [];
        var question = Of(key => map.OptionalText(key) ?? "", by,
            (key, message) => map.Optional(key)?.Wrong(message) ?? map.Node.Wrong(message));
        return question with { File = shown };
    }

    /// <summary>The query of a link.</summary>
    public static string Query(QuestionDefinition question) =>
        string.Join('&', Pairs(question).Select(pair => $"{pair.Key}={Uri.EscapeDataString(pair.Value)}"));

    /// <summary>The text of a file.</summary>
    public static string Yaml(QuestionDefinition question)
    {
        var text = new StringBuilder("# A question saved by `outcomes explore`; docs/explore.md explains the keys.\n");
        foreach (var (key, value) in Pairs(question))
            text.Append(CultureInfo.InvariantCulture, $"{key}: {(key == "by" ? $"[{value}]" : Quoted(value))}\n");
        return text.ToString();
    }

    private static IEnumerable<(string Key, string Value)> Pairs(QuestionDefinition question)
    {
        ArgumentNullException.ThrowIfNull(question);
        return new (string Key, string? Value)[]
        {
            ("title", question.Title), ("measure", question.Measure), ("from", question.From?.ToString()), ("to", question.To?.ToString()),
            ("among", question.Among), ("by", string.Join(", ", question.By)), ("versus", question.Versus),
            ("versus_from", question.VersusFrom?.ToString()), ("versus_to", question.VersusTo?.ToString()),
            ("points", question.Points?.ToString(CultureInfo.InvariantCulture)),
        }.Where(pair => pair.Value is { Length: > 0 }).Select(pair => (pair.Key, pair.Value!));
    }

    private static QuestionDefinition Of(Func<string, string> value, ImmutableArray<string> by, Func<string, string, Failure> wrong)
    {
        return new(value("measure").Trim() is { Length: > 0 } measure ? measure
            : throw wrong("measure", "name the `measure` that is asked"))
        {
            Title = value("title").Trim(),
            From = Month("from"),
            To = Month("to"),
            Among = value("among").Trim(),
            By = by.Distinct().Count() <= 2 ? [.. by.Distinct()] : throw wrong("by", "`by` splits by two fields at most"),
            Versus = value("versus").Trim(),
            VersusFrom = Month("versus_from"),
            VersusTo = Month("versus_to"),
            Points = Points(value("points").Trim(), wrong),
        };

        Month? Month(string key) => value(key).Trim() is not { Length: > 0 } text ? null
            : ReportedTime.TryParse(text, out Month month) ? month
            : throw wrong(key, $"`{key}` is a month such as 2026-03, in the years {ReportedTime.Years}");
    }

    private static double? Points(string text, Func<string, string, Failure> wrong) => text.Length == 0 ? null
        : double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var points) && points is > 0 and < 100
            ? points
            : throw wrong("points", "`points` is a difference in percentage points, above 0 and below 100, such as 5");

    private static string[] Words(string text) => text.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    private static string Quoted(string text) => "'" + string.Join(' ', text.Split('\r', '\n')).Replace("'", "''", StringComparison.Ordinal)
        + "'";

    private static Failure Wrong(string message) => new(ExitCode.Usage, message);
}
