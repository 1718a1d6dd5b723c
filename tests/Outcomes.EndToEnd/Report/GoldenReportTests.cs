using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The demonstration's report and appendix are those that stand in <c>reports/demo</c>: their text and tables byte for byte, their
/// drawings by title, description and hash of their bytes, their fonts by hash. Whoever changes a word, a figure or a line of them sees
/// that in the change.
/// </summary>
public sealed partial class GoldenReportTests(DemoRun demo) : IClassFixture<DemoRun>
{
    private const string Way = "If the change is meant, run tests/golden.sh, look at the report and at the difference, and commit it.";

    [Theory]
    [InlineData("report", 12)]
    [InlineData("appendix", 80)]
    public async Task The_pages_of_the_demonstration_are_those_in_the_repository(string page, int drawings)
    {
        var name = $"{page}-without-drawings.html";
        var kept = await File.ReadAllTextAsync(Repository.InRoot("reports", "demo", name), TestContext.Current.CancellationToken);
        var report = await File.ReadAllTextAsync(demo[$"{page}.html"], TestContext.Current.CancellationToken);
        Assert.True(Drawing().Count(report) > drawings, "the page has hardly any drawings");
        var made = Pinned(report);
        if (kept == made) return;
        var (was, becomes) = (kept.Split('\n'), made.Split('\n'));
        var line = was.Zip(becomes).TakeWhile(pair => pair.First == pair.Second).Count();
        Assert.Fail($"The demonstration's page is no longer that of reports/demo/{name}; line {line + 1} is the first that differs.\n"
            + $"- {Part(was, line, becomes)}\n+ {Part(becomes, line, was)}\n{Way}");
    }

    /// <summary>
    /// The page with a hash in the place of what a person cannot read in a difference. <c>tests/golden.sh</c> does the same in
    /// another language.
    /// </summary>
    private static string Pinned(string page) => Font().Replace(
        Drawing().Replace(page, match =>
            $"<svg data-sha256=\"{Hash(match.Value)}\">{string.Concat(Said().Matches(match.Value).Select(said => said.Value))}</svg>"),
        match => $"base64,sha256-{Hash(match.Groups[1].Value)}");

    private static string Hash(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    // A line may be long: from a little before the first character that differs.
    private static string Part(string[] lines, int at, string[] others)
    {
        if (at >= lines.Length) return "(the end)";
        var same = at < others.Length ? lines[at].Zip(others[at]).TakeWhile(pair => pair.First == pair.Second).Count() : 0;
        var start = Math.Max(0, same - 60);
        return lines[at].Substring(start, Math.Min(160, lines[at].Length - start));
    }

    [GeneratedRegex("<svg\\b.*?</svg>", RegexOptions.Singleline)]
    private static partial Regex Drawing();

    [GeneratedRegex("<(title|desc)\\b.*?</\\1>", RegexOptions.Singleline)]
    private static partial Regex Said();

    [GeneratedRegex("base64,([A-Za-z0-9+/=]{200,})")]
    private static partial Regex Font();
}
