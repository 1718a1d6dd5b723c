using System.Text.Json;

namespace Outcomes.Tests.EndToEnd.Sharing;

/// <summary>What a set for others says beside its numbers, and what one says after another.</summary>
public sealed class SuccessiveSetsTests : IDisposable
{
    private readonly Ward _ward = new(19);

    public void Dispose() => _ward.Dispose();

    [Theory]
    [InlineData("network")]
    [InlineData("public")]
    public async Task No_eligible_record_and_a_few_events_read_alike_in_every_file(string audience)
    {
        _ward.Export(rows: _ward.Records.Select(row => row with { Fona = null }));
        await _ward.Make(audience, "2024-12", "none");
        _ward.Export(rows: _ward.Records.Select((row, at) => row with { Fona = at == 40 }));
        await _ward.Make(audience, "2024-12", "one");
        _ward.Export(rows: [.. _ward.Records.Take(115), .. _ward.Records.Skip(115).Select(row => row with { Fona = true })]);
        await _ward.Make(audience, "2024-12", "some");
        foreach (var file in new[] { "report.html", "datapackage.json", "run.json", "tables/counts.csv", "tables/estimates.csv" })
        {
            Assert.Equal(_ward.Workspace.Read("none", file), _ward.Workspace.Read("one", file));
            Assert.Equal(_ward.Workspace.Read("none", file), _ward.Workspace.Read("some", file));
        }

        Assert.Contains("not shown", _ward.Workspace.Read("none", "report.html"), StringComparison.Ordinal);
        Assert.DoesNotContain("eligible record", _ward.Workspace.Read("none", "report.html"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Not_collected_is_said_from_the_mapping_whatever_the_counts()
    {
        _ward.Pipeline("network", "network", "rows.csv", "first_pass.yaml, front_of_neck.yaml, team_brief.yaml");
        _ward.Export();
        await _ward.Make("network", "2024-12", "set");
        var page = _ward.Workspace.Read("set", "report.html");
        Assert.Equal(2, page.Split("not collected").Length);
        Assert.Contains("not collected", page[page.IndexOf("id=\"t-summary\"", StringComparison.Ordinal)..], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_late_record_changes_no_released_period_and_hides_no_measure()
    {
        _ward.Export(rows: _ward.Records.Where(row => row.Month < 12));
        var first = await _ward.Make("network", "2024-12", "out/2024-12");
        Assert.Equal(["first_pass,2024-01/2024-06,all,all,42,60,0", "first_pass,2024-07/2024-12,all,all,42,60,0"],
            first.Where(row => !row.Contains("2024-01/2024-12", StringComparison.Ordinal)));
        _ward.Export(rows: [.. _ward.Records, new(4, First: false)]);
        // In a folder elsewhere, so that only the record store knows the first set.
        var second = await _ward.Make("network", "2025-07", "elsewhere/2025-07");
        Assert.All(first.Where(row => !row.Contains("2024-01/2024-12", StringComparison.Ordinal)), row => Assert.Contains(row, second));
        Assert.Contains("first_pass,2025-01/2025-06,all,all,42,60,0", second);
        Assert.DoesNotContain("late", _ward.Workspace.Read("elsewhere/2025-07", "run.json"), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_set_beside_the_output_folder_is_found_where_the_record_store_is_gone()
    {
        _ward.Export(rows: _ward.Records.Where(row => row.Month < 12));
        var first = await _ward.Make("network", "2024-12", "out/2024-12");
        Directory.Delete(_ward.Workspace[".outcomes"], recursive: true);
        _ward.Export(rows: [.. _ward.Records, new(4, First: false)]);
        var second = await _ward.Make("network", "2025-07", "out/2025-07");
        Assert.Contains("first_pass,2024-01/2024-06,all,all,42,60,0", first);
        Assert.Contains("first_pass,2024-01/2024-06,all,all,42,60,0", second);
    }

    [Fact]
    public async Task Several_earlier_folders_are_named_in_one_option()
    {
        _ward.Export();
        await _ward.Make("network", "2024-06", "a");
        await _ward.Make("network", "2024-12", "b");
        Directory.Delete(_ward.Workspace[".outcomes"], recursive: true);
        await _ward.Make("network", "2025-06", "c/c", "--previous", "a", "b");
        using var manifest = JsonDocument.Parse(_ward.Workspace.Read("c/c", "run.json"));
        Assert.Equal(2, manifest.RootElement.GetProperty("earlier_reports_compared").GetInt32());
    }

    [Fact]
    public async Task A_set_whose_predecessor_is_known_but_not_there_is_refused_and_says_what_to_do()
    {
        _ward.Export();
        await _ward.Make("network", "2024-06", "out/2024-06");
        await _ward.Make("network", "2024-12", "out/2024-12");
        Directory.Delete(_ward.Workspace[".outcomes"], recursive: true);
        Directory.Move(_ward.Workspace["out/2024-06"], _ward.Workspace["moved"]);
        var gap = await _ward.Try("network", "2025-06", "out/2025-06");
        Assert.Equal(4, gap.Exit);
        Assert.Contains("made after 1 earlier", gap.Error, StringComparison.Ordinal);
        Assert.Contains("--previous", gap.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_ward.Workspace["out/2025-06"]));
        await _ward.Make("network", "2025-06", "out/2025-06", "--previous", "moved");

        File.Delete(_ward.Workspace["out/2024-12/tables/counts.csv"]);
        Assert.Equal(4, (await _ward.Try("network", "2025-06", "out/again")).Exit);
        Directory.Delete(_ward.Workspace["out"], recursive: true);
        File.WriteAllText(_ward.Workspace[".outcomes/network/released.json"], "[{");
        var unread = await _ward.Try("network", "2025-06", "out/again");
        Assert.Equal(4, unread.Exit);
        Assert.Contains("released.json", unread.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_public_sees_of_a_period_what_the_network_saw_though_a_record_came_in_between()
    {
        _ward.Export(rows: _ward.Records.Where(row => row.Month < 12));
        await _ward.Make("network", "2024-12", "network");
        // 42 of 60 are rounded to 40 of 60; with the late one it would be 43, rounded to 45.
        _ward.Export(rows: [.. _ward.Records.Where(row => row.Month < 12), new(4, First: true)]);
        Assert.Contains("first_pass,2024-01/2024-06,all,all,40,60,0", await _ward.Make("public", "2024-12", "public"));
    }

    [Fact]
    public async Task A_pipeline_of_some_of_the_sources_hides_what_would_differ_by_a_few_records()
    {
        _ward.Export(rows: _ward.Records.Where(row => row.Month < 12));
        _ward.Export("others.csv", [new(1, First: true), new(2, First: false)]);
        _ward.Pipeline("both", "network", "rows.csv others.csv");
        Assert.Contains("first_pass,2024-01/2024-06,all,all,43,62,0", await _ward.Make("both", "2024-12", "both"));
        var alone = await _ward.Make("network", "2024-12", "alone");
        Assert.DoesNotContain(alone, row => row.StartsWith("first_pass,2024-01/2024-06", StringComparison.Ordinal));
        Assert.Contains("first_pass,2024-07/2024-12,all,all,42,60,0", alone);
    }

    [Fact]
    public async Task A_changed_definition_is_shown_from_the_first_period_that_no_set_has_shown()
    {
        _ward.Export();
        await _ward.Make("network", "2024-12", "first");
        var text = _ward.Workspace.Read("first_pass.yaml");
        _ward.Workspace.Write("first_pass.yaml", text.Replace("eligible: ", "eligible: age_years >= 18 and ", StringComparison.Ordinal));
        var second = await _ward.Make("network", "2025-06", "second");
        Assert.Equal(["first_pass,2025-01/2025-06,all,all,42,60,0"], second);
    }

    [Fact]
    public async Task Periods_are_the_same_wherever_in_them_the_events_lie()
    {
        // All failures in the first month of each half-year, or in the last: the closing month says nothing. No set knows of the other.
        _ward.Export(rows: _ward.Records.Select((row, at) => row with { First = at % 60 >= 6 }));
        var early = await _ward.Make("network", "2025-06", "early/set");
        Directory.Delete(_ward.Workspace[".outcomes"], recursive: true);
        _ward.Export(rows: _ward.Records.Select((row, at) => row with { First = at % 60 < 54 }));
        var late = await _ward.Make("network", "2025-06", "late/set");
        Assert.Equal(early, late);
        Assert.Equal(_ward.Workspace.Read("early/set", "report.html"), _ward.Workspace.Read("late/set", "report.html"));
        Assert.DoesNotContain("merged, for all measures alike, until", _ward.Workspace.Read("late/set", "report.html"),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_department_that_has_given_out_nothing_starts_anew()
    {
        _ward.Export();
        await _ward.Make("network", "2024-12", "trial");
        _ward.Export(rows: [.. _ward.Records, new(4, First: true)]);
        Assert.Contains("first_pass,2024-01/2024-06,all,all,42,60,0", await _ward.Make("network", "2024-12", "second"));
        Assert.Contains("first_pass,2024-01/2024-06,all,all,43,61,0",
            await _ward.Make("network", "2024-12", "third", "--previous", "none"));
        Assert.Equal(2, (await _ward.Try("network", "2024-12", "fourth", "--previous", "none", "trial")).Exit);
    }

    [Fact]
    public async Task The_notes_of_what_was_given_out_outlive_the_record_store_and_hold_no_record()
    {
        _ward.Export();
        await _ward.Make("network", "2024-12", "set");
        var forgotten = await Tool.ToolProcess.Run(_ward.Workspace.Folder, "forget", "network.yaml");
        Assert.Equal(0, forgotten.Exit);
        Assert.Contains("given to others", forgotten.Output, StringComparison.Ordinal);
        var kept = Assert.Single(Directory.EnumerateFileSystemEntries(_ward.Workspace[".outcomes/network"]));
        Assert.Equal("released.json", Path.GetFileName(kept));
        Assert.DoesNotContain("r12", File.ReadAllText(kept).Replace("first_pass", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_run_that_nothing_has_changed_for_says_so_and_a_second_one_gives_the_same_bytes()
    {
        _ward.Export();
        await _ward.Make("network", "2024-12", "out/2024-12");
        Assert.Contains("nothing has changed", (await _ward.Try("network", "2024-12", "out/2024-12")).Error, StringComparison.Ordinal);
        await _ward.Make("network", "2024-12", "again");
        Assert.Equal(_ward.Workspace.Read("out/2024-12", "run.json"), _ward.Workspace.Read("again", "run.json"));
        Assert.Equal(_ward.Workspace.Read("out/2024-12", "report.html"), _ward.Workspace.Read("again", "report.html"));
    }
}
