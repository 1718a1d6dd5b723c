using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Outcomes.Cli.Compute;

namespace Outcomes.Tests;

/// <summary>Runs every <c>outcomes compute</c> example of docs/statistics and compares it with the JSON printed below it.</summary>
public partial class ComputeDocsTests
{
    public static TheoryData<string> Pages =>
    [
        "wilson.md", "clopper-pearson.md", "difference.md", "poisson.md", "run-chart.md", "monthly-test.md",
        "control-charts.md", "rare-events.md", "funnel.md", "shrinkage.md", "pooling.md", "did-it-help.md",
        "learning-curve.md", "traces.md", "proportion-intervals.md", "shares.md", "ratios.md", "mantel-haenszel.md",
        "trend.md", "quantile.md", "mean.md", "kappa.md", "two-proportion-power.md", "logistic.md", "discrimination.md",
        "calibration.md", "standardised-ratio.md", "risk-adjusted-cusum.md",
    ];

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_example_gives_what_the_page_prints(string page)
    {
        var text = Read(page);
        var examples = Example().Matches(text);
        Assert.NotEmpty(examples);
        // No command is left without a result to compare, and no result without a command.
        Assert.Equal(examples.Count, Regex.Count(text, "^outcomes compute ", RegexOptions.Multiline));
        Assert.Equal(examples.Count, Regex.Count(text, "^```json", RegexOptions.Multiline));
        foreach (Match example in examples)
        {
            var result = ComputeCatalogue.Run(example.Groups["name"].Value, example.Groups["inputs"].Value);
            var printed = JsonNode.Parse(example.Groups["result"].Value)!.AsObject();
            Assert.NotEmpty(printed);
            foreach (var (key, value) in printed)
            {
                Assert.True(result.ContainsKey(key), $"{page}: the result has no {key}");
                Assert.True(JsonNode.DeepEquals(JsonNode.Parse(result[key]?.ToJsonString() ?? "null"), value),
                    $"{page}: {key} is {result[key]?.ToJsonString() ?? "null"}, the page prints {value?.ToJsonString() ?? "null"}");
            }
        }
    }

    [Fact]
    public void Every_statistic_has_an_example_on_a_page()
    {
        var shown = Pages.SelectMany(page => Example().Matches(Read(page.Data)))
            .Select(example => example.Groups["name"].Value).ToHashSet();
        Assert.Equal(ComputeCatalogue.All.Select(statistic => statistic.Name).Order(), shown.Order());
    }

    [GeneratedRegex(@"^```sh\noutcomes compute (?<name>\w+) '(?<inputs>[^']*)'\n```\n```json\n(?<result>.*?)\n```$",
        RegexOptions.Multiline | RegexOptions.Singleline)]
    private static partial Regex Example();

    private static string Read(string page)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
                return File.ReadAllText(Path.Combine(folder.FullName, "docs", "statistics", page)).ReplaceLineEndings("\n");
        throw new FileNotFoundException($"{page}: no Outcomes.sln above {AppContext.BaseDirectory}");
    }
}
