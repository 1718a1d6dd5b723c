using System.Text.Json;
using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Pages speak in titles: a raw name or code stands only where it is shown as one, in <c>code</c>.</summary>
public sealed partial class TitlesOnPagesTests(SharedRuns runs)
{
    /// <summary>Values of the dictionary that are no English words of their own.</summary>
    private static readonly string[] Abbreviations =
    [
        "icu", "ed", "em", "icm", "hfno", "sga", "rsi", "fona", "lt25", "gt100", "nibp", "osa"
    ];

    [Theory]
    [InlineData("report.html")]
    [InlineData("appendix.html")]
    [InlineData("cases.html")]
    public async Task No_raw_name_or_code_stands_on_a_page_of_the_demonstration(string page)
    {
        var run = await runs.Get("demo", () => new Workspace(), "demo");
        Assert.Empty(Raw(run.Workspace.Read("outcomes-demo", page)));
    }

    [Fact]
    public async Task No_raw_name_or_code_stands_in_a_chart_of_the_demonstration()
    {
        var run = await runs.Get("demo", () => new Workspace(), "demo");
        foreach (var chart in Directory.EnumerateFiles(run.Workspace["outcomes-demo", "charts"], "*.svg"))
            Assert.True(Raw(File.ReadAllText(chart)) is [], Path.GetFileName(chart));
    }

    [Fact]
    public async Task No_raw_name_or_code_stands_on_the_form()
    {
        using var workspace = new Workspace();
        Assert.Equal(0, (await ToolProcess.Run(workspace.Folder, "form", "--out", "form.html")).Exit);
        Assert.Empty(Raw(workspace.Read("form.html")));
    }

    [Fact]
    public void Every_value_of_the_dictionary_has_a_title()
    {
        foreach (var table in (string[])["procedure", "attempt", "trace"])
        {
            using var schema = JsonDocument.Parse(File.ReadAllText(Repository.InRoot("pipelines", "dictionary", $"{table}.json")));
            foreach (var field in schema.RootElement.GetProperty("fields").EnumerateArray())
                foreach (var key in (string[])["categories", "outcomes:allowed"])
                    if (field.TryGetProperty(key, out var values))
                        Assert.All(values.EnumerateArray(), value => Assert.False(
                            string.IsNullOrWhiteSpace(value.GetProperty("label").GetString())));
        }
    }

    [Fact]
    public void A_raw_name_would_be_found()
    {
        Assert.Equal(["location_type", "icu"], Raw("<p>By location_type: <code>hour_band</code> and icu</p>"));
        Assert.Empty(Raw("<style>a_b{}</style><p title=\"a_b\">Difficulty</p>"));
    }

    private static string[] Raw(string page)
    {
        var text = Tag().Replace(Unread().Replace(page, " "), "\n");
        return [.. Name().Matches(text).Select(match => match.Value)
            .Concat(Abbreviations.Where(code => Regex.IsMatch(text, $@"\b{code}\b"))).Distinct()];
    }

    [GeneratedRegex("<(style|script|code)[ >].*?</\\1>", RegexOptions.Singleline)]
    private static partial Regex Unread();

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tag();

    [GeneratedRegex("\\b[a-z0-9]+(_[a-z0-9]+)+\\b")]
    private static partial Regex Name();
}
