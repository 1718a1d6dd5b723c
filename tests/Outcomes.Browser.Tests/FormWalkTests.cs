using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Browser;

/// <summary>
/// The form without a mouse (WCAG 2.2: 2.1.1 keyboard, 2.1.2 no trap, 2.4.3 order, 2.4.7 visible, 2.4.11 not obscured). Every stop of
/// the focus is looked at: on what it rests, where it stands, and how it is seen.
/// </summary>
public sealed class FormWalkTests(Chromium chromium, FormPages forms) : IClassFixture<FormPages>, IDisposable
{
    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    [Theory]
    [InlineData(1280)]
    [InlineData(320)]
    public async Task Tab_goes_once_through_every_control_in_the_order_of_the_page_and_each_is_seen_to_have_the_focus(int width)
    {
        await using var form = await chromium.OpenForm(forms, _workspace, width);
        await form.Page.ClickAsync("#add-attempt");
        await form.Page.EvaluateAsync("document.querySelectorAll('details').forEach(one => one.open = true)");
        await form.Page.EvaluateAsync("const top = document.querySelector('h1'); top.tabIndex = -1; top.focus()");
        var expected = await form.Page.EvaluateAsync<int>(Reachable + "reachable().length");
        var (places, lost) = (new List<int>(), new List<string>());
        for (var i = 0; i < 2 * expected && (places.Count == 0 || places[^1] < expected - 1); i++)
        {
            await form.Page.Keyboard.PressAsync("Tab");
            var stop = await form.Page.EvaluateAsync<Stop>(Reachable + Look);
            if (stop.Fault.Length > 0) lost.Add(stop.Fault);
            // The parts of a date are stops of their own in one control.
            if (places.Count == 0 || places[^1] != stop.At) places.Add(stop.At);
        }

        Assert.True(lost.Count == 0, string.Join('\n', lost));
        Assert.Equal(Enumerable.Range(0, expected), places);
        // And back: no stop is a trap.
        await form.Page.Keyboard.PressAsync("Shift+Tab");
        Assert.Equal(expected - 2, (await form.Page.EvaluateAsync<Stop>(Reachable + Look)).At);
    }

    [Fact]
    public async Task Keys_alone_edit_attempts_reach_errors_and_change_remove_and_save_records_keeping_focus()
    {
        await using var form = await chromium.OpenForm(forms, _workspace);
        var keys = form.Page.Keyboard;
        async Task Press(string key, string focus)
        {
            await keys.PressAsync(key);
            Assert.Equal(focus, await form.Focused());
            Assert.Equal("", (await form.Page.EvaluateAsync<Stop>(Reachable + Look)).Fault);
        }

        await form.Walk("add-attempt");
        await Press("Enter", "attempt1_technique");
        await keys.PressAsync("ArrowDown");
        await keys.PressAsync("ArrowDown");
        Assert.Equal("video", await form.Page.InputValueAsync("#attempt1_technique"));
        await form.Walk("add-attempt");
        await Press("Space", "attempt2_technique");
        await form.WalkTo("Remove attempt 2");
        await Press("Enter", "add-attempt");
        Assert.Equal("Attempt 2 removed.", await form.Page.InnerTextAsync("#status"));
        Assert.Equal(1, await form.Page.Locator(".attempt").CountAsync());
        Assert.Equal("video", await form.Page.InputValueAsync("#attempt1_technique"));

        // The date is missing: the summary takes the focus, its link leads to the field, and into a folded one too.
        await form.Walk("keep");
        await Press("Enter", "summary");
        await keys.PressAsync("Tab");
        await Press("Enter", "event_date");
        await keys.TypeAsync("03032026");
        await form.Walk("keep");
        await Press("Space", "summary");
        await form.Walk("keep-anyway");
        await Press("Enter", "record_id");
        Assert.Contains("Kept. 1", await form.Page.InnerTextAsync("#status"), StringComparison.Ordinal);

        await form.WalkTo("Change F-");
        await Press("Enter", "record_id");
        Assert.Equal("video", await form.Page.InputValueAsync("#attempt1_technique"));
        await form.Walk("clear");
        await Press("Enter", "record_id");
        await form.Save(_workspace, "rows.csv");
        Assert.Equal("save-csv", await form.Focused());
        await form.WalkTo("Remove F-");
        await Press("Enter", "kept-title");
        Assert.True(await form.Page.IsDisabledAsync("#save-csv"));
    }

    [Fact]
    public async Task A_link_of_the_summary_opens_what_is_folded_around_its_field()
    {
        await using var form = await chromium.OpenForm(forms, _workspace);
        await form.Page.FillAsync("#event_date", "2026-03-02");
        await form.Page.EvaluateAsync("document.getElementById('weight_kg').value = 'heavy'");
        Assert.False(await form.Page.IsVisibleAsync("#weight_kg"));
        await form.Walk("keep");
        await form.Page.Keyboard.PressAsync("Enter");
        await form.Page.Keyboard.PressAsync("Tab");
        await form.Page.Keyboard.PressAsync("Enter");
        Assert.Equal("weight_kg", await form.Focused());
        Assert.Equal("", (await form.Page.EvaluateAsync<Stop>(Reachable + Look)).Fault);
    }

    /// <summary>One stop of the focus.</summary>
    public sealed class Stop
    {
        /// <summary>Its place among the controls that can be reached, in the order of the page; -1 for none of them.</summary>
        public int At { get; set; }

        /// <summary>What is wrong with it; empty where nothing is.</summary>
        public string Fault { get; set; } = "";
    }

    // In the order in which the page is read: what can be seen and is not disabled.
    private const string Reachable = """
        const reachable = () => [...document.querySelectorAll('a[href], button, input, select, summary')].filter(one => !one.disabled && one.checkVisibility());
        """;

    // Seen to have the focus: an outline of two pixels or more around it, three to one against the page, in the window and under nothing.
    private const string Look = """
        (() => {
          const one = document.activeElement, style = getComputedStyle(one), box = one.getBoundingClientRect(), name = one.id || one.textContent.slice(0, 30);
          const at = reachable().indexOf(one);
          if (one === document.body) return { At: -1, Fault: 'the focus is on nothing' };
          const light = ([r, g, b]) => [r, g, b].map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4).reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
          const contrast = 1.05 / (light(style.outlineColor.match(/\d+/g).map(Number)) + 0.05);
          if (!(style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2 && contrast >= 3)) return { At: at, Fault: `${name}: no outline to see` };
          if (box.bottom <= 0 || box.top >= innerHeight || box.right <= 0 || box.left < 0 || box.right > innerWidth + 0.5) return { At: at, Fault: `${name}: outside the window` };
          const top = document.elementFromPoint(Math.min(innerWidth - 1, box.left + box.width / 2), Math.min(innerHeight - 1, Math.max(0, box.top + box.height / 2)));
          return { At: at, Fault: top && (one.contains(top) || top.contains(one)) ? '' : `${name}: under something` };
        })()
        """;
}
