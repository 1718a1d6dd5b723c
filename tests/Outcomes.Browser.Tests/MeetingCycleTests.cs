using System.Text.Json;
using Microsoft.Playwright;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Browser;

/// <summary>
/// A whole cycle: a month's report, its meeting with two cases filled in, the minutes saved, the next month's report with the actions, one
/// closed with its effect. And minutes that go on, that belong elsewhere, and that hold what no person should type.
/// </summary>
public sealed class MeetingCycleTests(Chromium chromium) : IDisposable
{
    private const string Hostile = "=HYPERLINK(\"x\") </script><script>window.hit=1</script><img src=x onerror=window.hit=1> \u202Efdp";

    private readonly Workspace _workspace = Workspace.WithShippedPipelines();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task From_report_to_meeting_to_minutes_to_the_next_report_and_to_an_action_closed_with_its_effect()
    {
        await Tool("run", "pipelines/monthly.yaml", "--month", "2026-01", "--charts", "none");
        var page = await Meeting("2026-01");
        string[] cases;
        await using (var meeting = await chromium.Open(page))
        {
            cases = await meeting.Page.EvaluateAsync<string[]>(
                "[...document.querySelectorAll('.answers')].slice(0, 2).map(one => one.dataset.case)");
            await meeting.Page.FillAsync("#held", "2026-02-10");
            await meeting.Page.FillAsync("#role-nursing", "2");
            await Fill(meeting, cases[0], "The second laryngoscope was two rooms away.", "Put a bougie by every bed", "first_pass");
            await Fill(meeting, cases[1], "The pressure was not measured.", "Cycle the cuff every minute", "");
            await Save(meeting, "pipelines/minutes/january.json");
        }

        var saved = JsonDocument.Parse(_workspace.Read("pipelines", "minutes", "january.json")).RootElement;
        Assert.Equal(cases, saved.GetProperty("cases").EnumerateArray().Select(each => each.GetProperty("id").GetString()!));
        Assert.Equal([$"2026-01-{cases[0]}-1", $"2026-01-{cases[1]}-1"],
            saved.GetProperty("actions").EnumerateArray().Select(each => each.GetProperty("id").GetString()!));

        await Tool("run", "pipelines/monthly.yaml", "--month", "2026-02", "--charts", "none");
        var report = Report("2026-02");
        Assert.Contains("5 actions are open, 2 overdue", report, StringComparison.Ordinal);
        Assert.Contains($"2026-01-{cases[0]}-1: Put a bougie by every bed", report, StringComparison.Ordinal);
        // Six whole months before the meeting of February; the counts are those of tables/counts.csv.
        Assert.Contains($">{Met("first_pass", "2025-08", "2026-01")} in August 2025 to January 2026</td><td>open</td><td></td><td>30 "
            + $"September 2026</td>",
            report, StringComparison.Ordinal);

        await Tool("actions", "pipelines/monthly.yaml", "--close", $"2026-01-{cases[0]}-1", "--on", "2026-02-20",
            "--effect", "By every bed");
        await Tool("run", "pipelines/monthly.yaml", "--month", "2026-02", "--charts", "none");
        Assert.Contains("Effect: By every bed", Report("2026-02"), StringComparison.Ordinal);
        await Tool("run", "pipelines/monthly.yaml", "--month", "2026-03", "--charts", "none");
        report = Report("2026-03");
        Assert.Contains($"in August 2025 to January 2026</td><td>{Met("first_pass", "2026-03", "2026-03")} in March 2026 (1 month)</td>",
            report, StringComparison.Ordinal);
        // The next meeting has what is still open, with the case it came from.
        await using var next = await chromium.Open(await Meeting("2026-03"));
        Assert.Contains($"case {cases[1]}", await next.Page.Locator("#open-actions").TextContentAsync() ?? "", StringComparison.Ordinal);
    }

    [Fact]
    public async Task Saved_minutes_are_loaded_and_saved_again_as_the_same_bytes_and_go_on_with_the_next_number()
    {
        var page = await Meeting("2026-03");
        string id;
        await using (var meeting = await chromium.Open(page))
        {
            id = await meeting.Page.EvaluateAsync<string>("document.querySelector('.answers').dataset.case");
            await meeting.Page.FillAsync("#held", "2026-04-10");
            await Fill(meeting, id, Hostile, Hostile, "first_pass");
            await meeting.Page.SelectOptionAsync($"[id='{id}-harm']", "low");
            await Save(meeting, "one.json");
        }

        await using var again = await chromium.Open(page);
        await Load(again, _workspace["one.json"]);
        Assert.Contains("Loaded", await again.Page.Locator("#status").TextContentAsync() ?? "", StringComparison.Ordinal);
        await Save(again, "two.json");
        Assert.Equal(_workspace.Read("one.json"), _workspace.Read("two.json"));
        await again.Show($"fill-{id}");
        await again.Page.ClickAsync(".slide.now .add-action");
        Assert.Equal($"2026-03-{id}-2-what", await again.Focused());
        // Nothing entered is lost to a file: what is not saved yet stands.
        await Load(again, _workspace["one.json"]);
        Assert.Contains("Save what is entered first", await again.Page.Locator("#status").TextContentAsync() ?? "",
            StringComparison.Ordinal);
        Assert.Equal(2, await again.Page.Locator($".new-actions[data-of='{id}'] .action").CountAsync());
    }

    [Fact]
    public async Task A_meeting_closes_an_action_on_its_page_and_the_minutes_carry_it_into_the_next_report()
    {
        var page = await Meeting("2026-02");
        await using (var meeting = await chromium.Open(page))
        {
            await meeting.Page.FillAsync("#held", "2026-03-10");
            await meeting.Show("open-actions");
            var row = meeting.Page.Locator("[data-closing=checklist-on-lid]");
            await row.Locator("[data-closes=effect]").FillAsync(Hostile);
            foreach (var (day, said) in new[] { ("", "the date on which it was closed"), ("2026-01-12", "closed before it was decided"),
                ("2026-03-11", "closed after the meeting") })
            {
                await meeting.Show("open-actions");
                await row.Locator("[data-closes=closed]").FillAsync(day);
                await meeting.Show("close");
                await meeting.Page.ClickAsync("#save");
                Assert.Contains(said, await meeting.Page.InnerTextAsync("#summary"), StringComparison.Ordinal);
            }

            await meeting.Show("open-actions");
            await row.Locator("[data-closes=closed]").FillAsync("2026-03-09");
            await Save(meeting, "pipelines/minutes/february.json");
            Assert.Empty(await meeting.Violations());
        }

        await Tool("run", "pipelines/monthly.yaml", "--month", "2026-03", "--charts", "none");
        Assert.Contains("2 actions are open, none overdue.", Report("2026-03"), StringComparison.Ordinal);
        Assert.Contains("Closed this month, checklist-on-lid", Report("2026-03"), StringComparison.Ordinal);
        // The page made again no longer shows the action: what it closed is kept, byte for byte.
        File.Delete(page);
        await using var again = await chromium.Open(await Meeting("2026-02"));
        Assert.Equal(0, await again.Page.Locator("[data-closing=checklist-on-lid]").CountAsync());
        await Load(again, _workspace["pipelines", "minutes", "february.json"]);
        await Save(again, "again.json");
        Assert.Equal(_workspace.Read("pipelines", "minutes", "february.json"), _workspace.Read("again.json"));
    }

    [Fact]
    public async Task The_number_of_an_action_that_was_removed_is_never_given_again_after_saving_and_loading()
    {
        var page = await Meeting("2026-03");
        await using (var meeting = await chromium.Open(page))
        {
            await meeting.Page.FillAsync("#held", "2026-04-10");
            await meeting.Show("close");
            foreach (var _ in (int[])[1, 2])
                await meeting.Page.ClickAsync(".slide.now .add-action");
            foreach (var _ in (int[])[1, 2])
                await meeting.Page.ClickAsync(".slide.now .remove >> nth=0");
            await Save(meeting, "one.json");
        }

        await using var again = await chromium.Open(page);
        await Load(again, _workspace["one.json"]);
        await again.Show("close");
        await again.Page.ClickAsync(".slide.now .add-action");
        Assert.Equal("2026-03-general-3-what", await again.Focused());
        // Older minutes that know of fewer numbers take none back.
        await Save(again, "two.json", anyway: true);
        _workspace.Write("older.json", _workspace.Read("one.json").Replace("\"general\": 2", "\"general\": 1", StringComparison.Ordinal));
        await Load(again, _workspace["older.json"]);
        await again.Page.ClickAsync(".slide.now .add-action");
        Assert.Equal("2026-03-general-4-what", await again.Focused());
    }

    [Theory]
    [InlineData("not JSON", "holds no minutes")]
    [InlineData("""{"format": "other"}""", "holds no minutes")]
    [InlineData("""{"format": "outcomes-minutes", "version": 2, "pipeline": "demo", "month": "2026-03"}""", "holds no minutes")]
    [InlineData("""{"format": "outcomes-minutes", "version": 1, "pipeline": "demo", "month": "2026-02", "cases": [], "actions": []}""",
        "another pipeline or month")]
    [InlineData(
        """{"format": "outcomes-minutes", "version": 1, "pipeline": "demo", "month": "2026-03", "cases": [{"id": "A"}], "actions": []}""",
        "a case that this page does not hold")]
    [InlineData("""
        {"format": "outcomes-minutes", "version": 1, "pipeline": "demo", "month": "2026-03", "cases": [], "actions": [], "numbers": {"A": 1}}
        """, "a case that this page does not hold")]
    [InlineData("""
        {"format": "outcomes-minutes", "version": 1, "pipeline": "demo", "month": "2026-03", "cases": [], "actions": [], "numbers": {"A": 0}}
        """, "holds no minutes")]
    [InlineData(
        """{"format": "outcomes-minutes", "version": 1, "pipeline": "demo", "month": "2026-03", "cases": [], "actions": [{"id": "x"}]}""",
        "a case that this page does not hold")]
    public async Task A_file_that_is_not_of_this_page_is_refused_and_changes_nothing(string file, string said)
    {
        await using var meeting = await chromium.Open(await Meeting("2026-03"));
        _workspace.Write("file.json", file);
        await Load(meeting, _workspace["file.json"]);
        Assert.Contains(said, await meeting.Page.Locator("#status").TextContentAsync() ?? "", StringComparison.Ordinal);
        Assert.Equal(0, await meeting.Page.Locator(".action").CountAsync());
        Assert.Empty(meeting.Complaints);
    }

    [Fact]
    public async Task Hostile_minutes_are_text_in_the_page_the_report_and_the_table()
    {
        await using (var meeting = await chromium.Open(await Meeting("2026-01")))
        {
            var id = await meeting.Page.EvaluateAsync<string>("document.querySelector('.answers').dataset.case");
            await meeting.Page.FillAsync("#held", "2026-02-10");
            await Fill(meeting, id, Hostile, Hostile, "first_pass");
            await Harmless(meeting);
            await Save(meeting, "pipelines/minutes/january.json");
        }

        await Tool("run", "pipelines/monthly.yaml", "--month", "2026-02", "--charts", "none");
        await using (var report = await chromium.Open(_workspace["outcomes-out", "demo", "2026-02", "report.html"]))
        {
            await Harmless(report);
            Assert.Contains("window.hit=1</script>", await report.Page.Locator("#t-actions ~ tbody").TextContentAsync() ?? "",
                StringComparison.Ordinal);
        }

        await using (var next = await chromium.Open(await Meeting("2026-02"))) await Harmless(next);
        await Tool("actions", "pipelines/monthly.yaml", "--csv", "actions.csv");
        Assert.StartsWith("'=HYPERLINK", CsvTable.Read(_workspace["actions.csv"]).Rows
            .Single(row => row["action_id"].StartsWith("2026-01-", StringComparison.Ordinal))["what"], StringComparison.Ordinal);
    }

    private async Task<string> Meeting(string month)
    {
        await Tool("meeting", "pipelines/monthly.yaml", "--month", month);
        return _workspace["outcomes-out", "demo", $"meeting-{month}.html"];
    }

    private async Task Tool(params string[] arguments)
    {
        var result = await ToolProcess.Run(_workspace.Folder, arguments);
        Assert.True(result.Exit == 0, result.ToString());
    }

    private static async Task Fill(OpenPage meeting, string id, string happened, string what, string measure)
    {
        await meeting.Show($"fill-{id}");
        await meeting.Page.FillAsync($"[id='{id}-happened']", happened);
        await meeting.Page.SelectOptionAsync($"[id='{id}-candour']", "done");
        await meeting.Page.FillAsync($"[id='{id}-candour_role']", "consultant on call");
        await meeting.Page.FillAsync($"#fill-{id} [data-factor=team][data-side=helped]", "Roles were clear");
        await meeting.Page.ClickAsync(".slide.now .add-action");
        var action = meeting.Page.Locator(".slide.now .action").Last;
        await action.Locator("[data-action=what]").FillAsync(what);
        await action.Locator("[data-action=owner]").FillAsync("airway lead");
        await action.Locator("[data-action=due]").FillAsync(measure.Length > 0 ? "2026-05-31" : "2026-03-01");
        if (measure.Length == 0) return;
        await action.Locator("[data-action=measure]").SelectOptionAsync(measure);
        await action.Locator("[data-action=measure_by]").FillAsync("2026-09-30");
    }

    private async Task Save(OpenPage meeting, string file, bool anyway = false)
    {
        await meeting.Show("close");
        if (anyway)
            await meeting.Page.ClickAsync("#save");
        var download = await meeting.Page.RunAndWaitForDownloadAsync(() => meeting.Page.ClickAsync(anyway ? "#save-anyway" : "#save"));
        Assert.StartsWith("minutes-2026-", download.SuggestedFilename, StringComparison.Ordinal);
        await download.SaveAsAsync(_workspace[file.Split('/')]);
        Assert.Empty(meeting.Complaints);
    }

    private static async Task Load(OpenPage meeting, string file)
    {
        await meeting.Page.EvaluateAsync("document.getElementById('status').textContent = ''");
        await meeting.Page.SetInputFilesAsync("#load", file);
        await meeting.Page.Locator("#status:not(:empty)").WaitForAsync(new() { State = WaitForSelectorState.Attached });
    }

    private static async Task Harmless(OpenPage page)
    {
        Assert.Equal(0, await page.Page.EvaluateAsync<int>("window.hit ?? 0"));
        Assert.Equal(0, await page.Page.EvaluateAsync<int>("document.querySelectorAll('img[src=x], iframe, [onerror]').length"));
        Assert.Empty(page.Dialogs);
        Assert.Empty(page.Complaints);
        Assert.Single(page.Requests);
    }

    private string Report(string month) => _workspace.Read("outcomes-out", "demo", month, "report.html").Replace('\u00a0', ' ');

    private string Met(string measure, string from, string to)
    {
        var rows = CsvTable.Read(_workspace["outcomes-out", "demo", to == "2026-03" ? "2026-03" : "2026-02", "tables", "counts.csv"]).Rows
            .Where(row => row["measure"] == measure && row["stratum"] == "all" && row["period"].Length == 7
                && string.CompareOrdinal(row["period"], from) >= 0 && string.CompareOrdinal(row["period"], to) <= 0).ToArray();
        return $"{rows.Sum(row => int.Parse(row["met"], null))}/{rows.Sum(row => int.Parse(row["eligible"], null))}";
    }
}
