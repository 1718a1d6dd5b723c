using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Sites are compared with the limits that chance allows them, never ranked.</summary>
public sealed class SitesTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Five_sites_stand_in_the_order_of_their_code_and_one_far_off_is_asked_about()
    {
        // Met of eligible by site; the one far off has 30 of 60 where all together have 254 of 330.
        await Run(("quay", 60, 30), ("cove", 40, 34), ("bay", 80, 66), ("mole", 50, 40), ("isle", 100, 84));
        var rows = CsvTable.Read(_workspace["out"], "tables", "funnel.csv").Rows.ToArray();
        Assert.Equal(["bay", "cove", "isle", "mole", "quay"], rows.Where(row => row["part"] == "estimate").Select(row => row["site"]));
        Assert.Equal(["inside", "inside", "inside", "inside", "outside_998"], rows.Where(row => row["part"] == "estimate")
            .Select(row => row["place"]));
        Assert.Equal(254 / 330.0, Number(rows.Single(row => row["part"] == "target"), "value"), 1e-9);
        // Shrunken towards the mean, and not beyond it.
        Assert.InRange(Number(rows.Single(row => row["part"] == "shrunken" && row["site"] == "quay"), "value"), 30 / 60.0, 254 / 330.0);
        Assert.True(Number(rows.Single(row => row["part"] == "i_squared"), "value") > 0.5);
        Assert.Single(rows, row => row["part"] == "prediction");
        var page = _workspace.Read("out", "appendix.html");
        Assert.Contains("ask why, recording first", page, StringComparison.Ordinal);
        Assert.DoesNotContain("With fewer than 5 sites", page, StringComparison.Ordinal);
        Assert.True(File.Exists(_workspace["out", "charts", "funnel_measure.svg"]));
        Assert.Contains("tables/funnel.csv", _workspace.Read("out", "datapackage.json"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_sites_are_said_to_be_too_few_for_overdispersion_and_have_no_prediction()
    {
        await Run(("quay", 60, 45), ("cove", 40, 30));
        var rows = CsvTable.Read(_workspace["out"], "tables", "funnel.csv").Rows.ToArray();
        Assert.DoesNotContain(rows, row => row["part"] == "prediction");
        // Both have three in four: the pooled value is theirs, and nothing varies.
        Assert.Equal(0.75, Number(rows.Single(row => row["part"] == "pooled"), "value"), 1e-9);
        Assert.Equal(0, Number(rows.Single(row => row["part"] == "i_squared"), "value"), 1e-9);
        var page = _workspace.Read("out", "appendix.html");
        Assert.Contains("With fewer than 5 sites", page, StringComparison.Ordinal);
        Assert.Contains("not evidence that sites are equal", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_site_has_nothing_to_be_compared_with()
    {
        await Run(("quay", 60, 45));
        Assert.False(File.Exists(_workspace["out", "tables", "funnel.csv"]));
        Assert.DoesNotContain("Between sites", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
    }

    private static double Number(IReadOnlyDictionary<string, string> row, string column) =>
        double.Parse(row[column], CultureInfo.InvariantCulture);

    private async Task Run(params (string Site, int Records, int Met)[] sites)
    {
        var rows = new StringBuilder("id,day,place,attempts,first,site\n");
        foreach (var (site, records, met) in sites)
            for (var i = 0; i < records; i++)
                rows.Append(CultureInfo.InvariantCulture,
                    $"{site}{i:D3},2025-{(i % 12) + 1:D2}-15,icu,1,{(i < met ? "yes" : "no")},{site}\n");
        _workspace.Write("rows.csv", rows.ToString());
        _workspace.Write("mapping.yaml", TinyPipeline.Mapping + "  site_code: {column: site}\n");
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("as_of: 2026-02-01", "as_of: 2025-12-31", StringComparison.Ordinal)
            .Replace("from: 2026-01", "from: 2025-01", StringComparison.Ordinal)
            .Replace("strata:", "headline: [measure]\nstrata:", StringComparison.Ordinal));
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "all");
        Assert.True(result.Exit == 0, result.ToString());
    }
}
