using Outcomes.Tests.EndToEnd.Tool;
using Outcomes.Tests.Explore;

namespace Outcomes.Tests.Browser;

/// <summary>
/// The local page as a researcher uses it: with a script and without, by mouse and by keys, on a desk and on a telephone.
/// </summary>
public sealed class ExploreTests(Chromium chromium, ExploreProcess explore) : IClassFixture<ExploreProcess>
{
    private const string Compared = "/?measure=first_pass&among=age_years+%3E%3D+60&versus=age_years+%3C+60&by=device&by=urgency&points=5"
        + "&from=2023-04";

    public static TheoryData<string> Pages =>
    [
        "/", Compared, "/?measure=lowest_saturation&by=location_type&from=2023-04", "/?measure=first_pass&among=nothing",
        "/quality", "/ledger", "/unusual",
    ];

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Axe_finds_nothing_and_nothing_is_cut_on_a_desk_or_a_telephone(string page)
    {
        foreach (var width in new[] { 1280, 400, 320 })
        {
            await using var open = await Open(page, width);
            // Between the widest and the narrowest only what is cut can differ.
            if (width != 400) Assert.Empty((await open.Violations()).Take(10));
            Assert.Empty(await open.Page.EvaluateAsync<string[]>(PageChecks.Cut));
            Assert.Empty(await open.Page.EvaluateAsync<string[]>(PageChecks.Pale));
            Assert.DoesNotContain(open.Complaints, said => !said.Contains("400 (Bad Request)", StringComparison.Ordinal));
            Assert.All(open.Requests, address => Assert.StartsWith(explore.Root.GetLeftPart(UriPartial.Authority), address,
                StringComparison.Ordinal));
        }
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_cohort_is_built_and_compared_with_all_others_and_the_question_saved(bool scripts)
    {
        await using var open = await Open("/", 1280, scripts);
        var page = open.Page;
        await page.SelectOptionAsync("#field", "location_type");
        await page.FillAsync("#value", "Intensive care");
        await page.ClickAsync("text=Add condition");
        Assert.Equal("location_type = 'icu'", await page.InputValueAsync("#among"));
        await page.SelectOptionAsync("#field", "age_years");
        await page.SelectOptionAsync("#comparison", ">=");
        await page.FillAsync("#value", "60");
        await page.ClickAsync("text=Add condition");
        Assert.Equal("location_type = 'icu' and age_years >= 60", await page.InputValueAsync("#among"));
        Assert.Equal(2, await page.Locator("#parts li").CountAsync());
        await page.ClickAsync("summary:has-text('Compare')");
        await page.ClickAsync("text=Compare with all others");
        Assert.Equal("not (location_type = 'icu' and age_years >= 60)", await page.InputValueAsync("#versus"));
        Assert.Contains("First less second", await Answer(open), StringComparison.Ordinal);
        await page.ClickAsync("[aria-label='Remove: Location: Intensive care']");
        Assert.Equal("age_years >= 60", await page.InputValueAsync("#among"));
        await page.FillAsync("#name", $"older {scripts}");
        await page.ClickAsync("text=Save the question");
        Assert.Contains($"saved as questions/older-{scripts.ToString().ToLowerInvariant()}.yaml", await Answer(open),
            StringComparison.Ordinal);
        Assert.Empty(open.Complaints);
    }

    [Fact]
    public async Task With_the_script_an_answer_comes_as_soon_as_something_changes_and_text_and_parts_stay_in_step()
    {
        await using var open = await Open("/?measure=first_pass", 1280);
        var page = open.Page;
        await page.EvaluateAsync("window.stayed = true");
        await page.FillAsync("#among", "age_years >= 60 and not cardiac_arrest_before");
        await page.PressAsync("#among", "Tab");
        await page.WaitForSelectorAsync("#parts li:nth-child(2)");
        Assert.Contains("Age at least 60", await page.Locator("#parts li").First.TextContentAsync() ?? "", StringComparison.Ordinal);
        await page.SelectOptionAsync("#measure", "hypotension");
        await page.WaitForSelectorAsync("#figures:has-text('Hypotension')");
        await page.FillAsync("#among", "age_years >= ");
        await page.PressAsync("#among", "Tab");
        await page.WaitForSelectorAsync(".problem");
        Assert.True(await page.EvaluateAsync<bool>("window.stayed"));
        Assert.Contains("measure=hypotension", page.Url, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cohort_is_written_and_asked_by_keys_alone_without_a_script()
    {
        await using var open = await Open("/?measure=first_pass", 1280, scripts: false);
        var page = open.Page;
        await page.FocusAsync("#measure");
        await page.Keyboard.PressAsync("Tab");
        for (var i = 0; i < 30 && await Focused() != "among"; i++) await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.TypeAsync("urgency = 'emergency'");
        for (var i = 0; i < 30 && await Focused() != "by-0"; i++) await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.TypeAsync("Device of attempt 1");
        for (var i = 0; i < 10 && await Focused() != "main"; i++) await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForURLAsync("**/*among=urgency*");
        Assert.Contains("Urgency", await page.Locator("#parts li").First.TextContentAsync() ?? "", StringComparison.Ordinal);
        Assert.Contains("Videolaryngoscope", await Answer(open), StringComparison.Ordinal);

        Task<string> Focused() => page.EvaluateAsync<string>("document.activeElement.id || document.activeElement.className");
    }

    [Fact]
    public async Task The_command_copied_from_the_page_gives_the_figures_of_the_page()
    {
        await using var open = await Open(Compared, 1280);
        await open.Page.ClickAsync("summary:has-text('Definition, method')");
        var command = await open.Page.Locator("dt:has-text('Command') + dd code").TextContentAsync() ?? "";
        var parts = command.Split('"');
        Assert.StartsWith("outcomes explore pipelines/monthly.yaml --ask ", parts[0], StringComparison.Ordinal);
        var result = await ToolProcess.Run(explore.Folder, "explore", "pipelines/monthly.yaml", "--ask", parts[1]);
        Assert.Equal(0, result.Exit);
        foreach (var (cohort, row) in new[] { ("first", 1), ("second", 2) })
        {
            var whole = result.Output.Split('\n')
                .First(line => line.StartsWith($"{cohort},first_pass,2023-04/2026-03,all,all,", StringComparison.Ordinal))
                .Split(',');
            var shown = await open.Page.Locator($"#t-figures ~ tbody tr:nth-child({row}) td").First.TextContentAsync();
            Assert.Equal($"{whole[10]}/{whole[11]}", shown);
        }
    }

    [Fact]
    public async Task A_snapshot_opens_offline_as_it_was()
    {
        await using var open = await Open(Compared, 1280);
        var download = await open.Page.RunAndWaitForDownloadAsync(() => open.Page.ClickAsync("text=Snapshot"));
        var file = Path.Combine(explore.Folder, "snapshot.html");
        await download.SaveAsAsync(file);
        await using var offline = await chromium.Open(file);
        Assert.Equal(await open.Page.Locator(".answer table").First.TextContentAsync(),
            await offline.Page.Locator(".answer table").First.TextContentAsync());
        Assert.Empty(await offline.Violations());
        Assert.Empty(offline.Complaints);
        Assert.Single(offline.Requests);
    }

    private async Task<OpenPage> Open(string page, int width, bool scripts = true)
    {
        var open = await chromium.Open(explore.Address, width, scripts: scripts);
        await open.Page.GotoAsync(new Uri(explore.Root, page).AbsoluteUri);
        return open;
    }

    private static async Task<string> Answer(OpenPage open) => await open.Page.Locator("#answer").TextContentAsync() ?? "";
}
