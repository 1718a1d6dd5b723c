using System.Text.RegularExpressions;

namespace Outcomes.Tests.Cli;

/// <summary>A row of a table of keys in docs/pipeline.md.</summary>
/// <param name="Kind">The kind of map that the key belongs to, as the marker above the table names it.</param>
/// <param name="Key">The key.</param>
/// <param name="Default">The cell on what holds without it, as written.</param>
/// <param name="Example">The example, without its backticks.</param>
public sealed record KeyRow(string Kind, string Key, string Default, string Example)
{
    public bool IsRequired => Default == "required";

    /// <summary>The default where the page states a value; null where it says it in words.</summary>
    public string? DefaultValue => Default is ['`', .. var value, '`'] && !value.Contains('`', StringComparison.Ordinal) ? value : null;
}

/// <summary>A file that docs/pipeline.md shows.</summary>
public sealed record PageBlock(string Kind, string Text);

/// <summary>
/// docs/pipeline.md: its tables of keys and its examples of files, each under a marker that a reader of the page does not see.
/// </summary>
internal static partial class PipelinePage
{
    private static readonly Lazy<string> Once = new(() =>
        File.ReadAllText(Path.Combine(RepositoryFolder(), "docs", "pipeline.md")).ReplaceLineEndings("\n"));

    public static string Text => Once.Value;

    public static IReadOnlyList<KeyRow> Rows { get; } = [.. Tables().Matches(Text).SelectMany(RowsOf)];

    public static IReadOnlyList<PageBlock> Blocks { get; } =
        [.. Examples().Matches(Text).Select(match => new PageBlock(match.Groups["kind"].Value, match.Groups["text"].Value))];

    public static string RepositoryFolder()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "Outcomes.sln"))) folder = Path.GetDirectoryName(folder)!;
        return folder;
    }

    // A table of several kinds names the last word of the kind before each key: `baseline: from`.
    private static IEnumerable<KeyRow> RowsOf(Match table)
    {
        var kinds = table.Groups["kinds"].Value.Split(", ");
        foreach (var line in table.Groups["rows"].Value.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            if (Row().Match(line) is not { Success: true } row)
                throw new FormatException($"docs/pipeline.md: a row of keys is not `key`, text, default, `example`: {line}");
            var key = row.Groups["key"].Value;
            var kind = kinds.Length == 1
                ? kinds[0]
                : kinds.Single(each => key.StartsWith(each.Split(' ')[^1] + ": ", StringComparison.Ordinal));
            yield return new KeyRow(kind, kinds.Length == 1 ? key : key[(kind.Split(' ')[^1].Length + 2)..], row.Groups["default"].Value,
                row.Groups["example"].Value);
        }
    }

    [GeneratedRegex(@"^<!-- keys: (?<kinds>.+) -->\n\| key \| what it does \| default \| example \|\n\| --- \| --- \| --- \| --- "
        + @"\|\n(?<rows>(?:\|.*\n)+)", RegexOptions.Multiline)]
    private static partial Regex Tables();

    [GeneratedRegex(@"^\| `(?<key>[^`]+)` \| (?<what>[^|]+) \| (?<default>[^|]+) \| `(?<example>[^`]+)` \|$")]
    private static partial Regex Row();

    [GeneratedRegex(@"^<!-- (?:yaml|json|csv): (?<kind>\w+) -->\n```(?:yaml|json|csv)\n(?<text>.*?)^```$",
        RegexOptions.Multiline | RegexOptions.Singleline)]
    private static partial Regex Examples();
}
