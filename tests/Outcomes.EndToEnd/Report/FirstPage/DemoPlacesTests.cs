using System.Net;
using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>What was planted in the invented department is met on a side of its report: the table of docs/report.md, looked up.</summary>
public sealed partial class DemoPlacesTests(DemoRun demo) : IClassFixture<DemoRun>
{
    [Fact]
    public void Each_planted_truth_is_printed_on_the_side_that_the_page_names()
    {
        var guide = File.ReadAllText(Repository.InRoot("docs", "report.md"));
        guide = guide[guide.IndexOf("### Where the planted changes", StringComparison.Ordinal)..];
        guide = guide[..guide.IndexOf("### Sections", StringComparison.Ordinal)];
        var rows = guide.Split('\n').Where(line => line.StartsWith("| ", StringComparison.Ordinal)).Skip(2)
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries)).ToArray();
        Assert.Equal(8, rows.Length);
        var sides = SideSection().Matches(File.ReadAllText(demo["report.html"]))
            .ToDictionary(side => Text(side.Groups["title"].Value), side => Text(side.Groups["body"].Value));
        Assert.All(rows, row => Assert.Contains(row[3], sides[row[2]], StringComparison.Ordinal));
    }

    private static string Text(string html) =>
        Space().Replace(WebUtility.HtmlDecode(Tag().Replace(html, " ")).Replace('\u00a0', ' '), " ").Trim();

    [GeneratedRegex("""<section class="side"[^>]*><h2 [^>]*>(?<title>[^<]+)</h2>(?<body>.*?)</section>""", RegexOptions.Singleline)]
    private static partial Regex SideSection();

    [GeneratedRegex("<[^>]+>")]
    private static partial Regex Tag();

    [GeneratedRegex("\\s+")]
    private static partial Regex Space();
}
