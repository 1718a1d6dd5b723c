using Microsoft.Playwright;

namespace Outcomes.Tests.Browser;

/// <summary>The meeting's page as slides, as one long page, by keys alone, without scripts and on paper.</summary>
public sealed class MeetingTests(Chromium chromium, PageSet pages) : IClassFixture<PageSet>
{
    private const string Shown =
        "[...document.querySelectorAll('.slide')].filter(one => one.checkVisibility()).map(one => one.id).join(' ')";

    [Theory]
    [InlineData(1280)]
    [InlineData(320)]
    public async Task Neither_slides_nor_the_long_page_break_a_rule_ask_for_anything_or_cut_a_text(int width)
    {
        await using var open = await Open(width);
        await open.Page.ClickAsync("#next");
        foreach (var slide in (string[])["agenda", "open-actions", "case-", "fill-", "close"])
        {
            await open.Show(await open.Page.EvaluateAsync<string>("kind => document.querySelector(`.slide[id^=${kind}]`).id", slide));
            if (slide is "fill-" or "close") await open.Page.ClickAsync(".slide.now .add-action");
            Assert.Empty((await open.Violations()).Take(10));
            Assert.Empty(await open.Page.EvaluateAsync<string[]>(PageChecks.Cut));
        }

        await open.Page.ClickAsync("#mode");
        Assert.Empty((await open.Violations()).Take(10));
        Assert.Empty(await open.Page.EvaluateAsync<string[]>(PageChecks.Cut));
        Assert.Empty(await open.Page.EvaluateAsync<string[]>(PageChecks.Pale));
        Assert.True(await open.Page.EvaluateAsync<int>(PageChecks.Judged) > 200);
        Assert.Single(open.Requests);
        Assert.Empty(open.Complaints);
    }

    [Fact]
    public async Task Arrow_keys_turn_slides_tell_where_one_is_and_leave_texts_alone()
    {
        await using var open = await Open();
        var keys = open.Page.Keyboard;
        Assert.Equal("agenda", await open.Page.EvaluateAsync<string>(Shown));
        foreach (var (key, slide) in new[]
            { ("ArrowRight", "figures"), ("PageDown", "open-actions"), ("ArrowLeft", "figures"), ("PageUp", "agenda"),
                ("ArrowLeft", "agenda"),
                ("End", "close"), ("ArrowRight", "close"), ("Home", "agenda") })
        {
            await keys.PressAsync(key);
            Assert.Equal(slide, await open.Page.EvaluateAsync<string>(Shown));
            Assert.Equal($"h-{slide}", await open.Focused());
        }

        await keys.PressAsync("ArrowRight");
        Assert.StartsWith("2 of ", await open.Page.InnerTextAsync("#position"), StringComparison.Ordinal);
        await keys.PressAsync("Home");
        await open.Page.FocusAsync("#role-nursing");
        await keys.TypeAsync("12");
        foreach (var key in (string[])["ArrowLeft", "Home", "End"]) await keys.PressAsync(key);
        Assert.Equal("agenda", await open.Page.EvaluateAsync<string>(Shown));
        // A link of the agenda leads to its case, and the address remembers the slide.
        await open.Page.ClickAsync("#agenda a.id >> nth=0");
        Assert.StartsWith("case-", await open.Page.EvaluateAsync<string>(Shown), StringComparison.Ordinal);
        Assert.Equal("#" + await open.Page.EvaluateAsync<string>(Shown), await open.Page.EvaluateAsync<string>("location.hash"));
    }

    // A projector of 1280 by 720: nobody scrolls through a case in front of the others.
    [Fact]
    public async Task Every_slide_of_a_case_ends_above_the_bar_on_a_small_projector()
    {
        await using var open = await Open();
        var slides = await open.Page.EvaluateAsync<string[]>("[...document.querySelectorAll('.slide.story')].map(one => one.id)");
        Assert.True(slides.Length > 3);
        foreach (var slide in slides)
        {
            await open.Show(slide);
            Assert.True(await open.Page.EvaluateAsync<double>("document.querySelector('.slide.now').getBoundingClientRect().bottom"
                + " - document.getElementById('bar').getBoundingClientRect().top") <= 0, slide);
        }
    }

    [Fact]
    public async Task Every_slide_is_reached_and_the_focus_is_never_lost()
    {
        await using var open = await Open();
        var slides = await open.Page.Locator(".slide").CountAsync();
        var seen = new List<string> { await open.Page.EvaluateAsync<string>(Shown) };
        while (seen.Count < slides)
        {
            await open.Page.Keyboard.PressAsync("ArrowRight");
            seen.Add(await open.Page.EvaluateAsync<string>(Shown));
            Assert.Equal($"h-{seen[^1]}", await open.Focused());
        }

        Assert.Equal(slides, seen.Distinct().Count());
        Assert.All(seen, one => Assert.DoesNotContain(' ', one));
    }

    [Fact]
    public async Task Keys_alone_decide_an_action_remove_it_and_are_led_to_what_is_missing()
    {
        await using var open = await Open();
        await open.Page.Keyboard.PressAsync("End");
        await open.WalkTo("Add an action");
        await open.Page.Keyboard.PressAsync("Enter");
        Assert.EndsWith("general-1-what", await open.Focused(), StringComparison.Ordinal);
        await open.Page.Keyboard.TypeAsync("Count the bags");
        Assert.Contains("Count the bags. No owner yet", await open.Page.InnerTextAsync("#decided"), StringComparison.Ordinal);
        await open.Walk("save");
        await open.Page.Keyboard.PressAsync("Enter");
        Assert.Equal("summary", await open.Focused());
        Assert.Contains("3 to fill in", await open.Page.InnerTextAsync("#summary"), StringComparison.Ordinal);
        await open.Page.Keyboard.PressAsync("Tab");
        await open.Page.Keyboard.PressAsync("Enter");
        Assert.Equal("held", await open.Focused());
        Assert.Equal("agenda", await open.Page.EvaluateAsync<string>(Shown));
        await open.Show("close");
        await open.WalkTo("Remove action");
        await open.Page.Keyboard.PressAsync("Enter");
        Assert.Equal(0, await open.Page.Locator(".action").CountAsync());
        Assert.True(await open.Page.EvaluateAsync<bool>("document.activeElement.classList.contains('add-action')"));
        // A number is never given twice, so an id that was read out means one action for good.
        await open.Page.Keyboard.PressAsync("Enter");
        Assert.EndsWith("general-2-what", await open.Focused(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_scripts_it_is_one_long_page_with_every_slide_and_no_button()
    {
        await using var open = await chromium.Open(pages["meeting.html"], scripts: false);
        foreach (var slide in await open.Page.Locator(".slide").AllAsync()) Assert.True(await slide.IsVisibleAsync());
        Assert.True(await open.Page.Locator("noscript p").IsVisibleAsync());
        foreach (var part in await open.Page.Locator("#bar, .needs-script").AllAsync()) Assert.False(await part.IsVisibleAsync());
        Assert.Empty(open.Complaints);
    }

    [Fact]
    public async Task On_paper_every_slide_stands_whole_with_room_to_write_and_answers_to_tick()
    {
        await using var open = await Open(688);
        await open.Page.EmulateMediaAsync(new() { Media = Media.Print });
        Assert.Empty(await open.Page.EvaluateAsync<string[]>(PageChecks.Torn));
        foreach (var part in await open.Page.Locator(".slide, .paper, .ticks").AllAsync()) Assert.True(await part.IsVisibleAsync());
        foreach (var part in await open.Page.Locator("#bar, .add-action, .fill-in select, #save").AllAsync())
            Assert.False(await part.IsVisibleAsync());
        var sides = await open.Page.Locator(".slide").CountAsync();
        var pdf = System.Text.Encoding.Latin1.GetString(await open.Page.PdfAsync(new() { Format = "A4" }));
        Assert.InRange(System.Text.RegularExpressions.Regex.Count(pdf, @"/Type\s*/Page\b(?!s)"), sides, sides + 2);
    }

    private Task<OpenPage> Open(int width = 1280) => chromium.Open(pages["meeting.html"], width, 720);
}
