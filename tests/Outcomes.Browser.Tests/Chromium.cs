using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(Outcomes.Tests.Browser.Chromium))]

namespace Outcomes.Tests.Browser;

/// <summary>
/// The machine's own Chromium, started once for all tests of the assembly; where there is none each test skips and says so.
/// </summary>
public sealed class Chromium : IAsyncLifetime
{
    private IPlaywright? _playwright;
    private IBrowser? _browser;

    private static string? Executable => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .SelectMany(folder => new[] { "chromium", "chromium-browser", "google-chrome" }.Select(name => Path.Combine(folder, name)))
        .FirstOrDefault(File.Exists);

    public async ValueTask InitializeAsync()
    {
        if (Executable is not { } path) return;
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = path,
            Args = ["--no-sandbox", "--disable-quic", "--disable-background-networking", "--disable-component-update", "--disable-sync"]
        });
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null) await _browser.DisposeAsync();
        _playwright?.Dispose();
    }

    /// <summary>
    /// A file of this machine as a page of its own, offline, or an address, with every request and every complaint of the console kept.
    /// </summary>
    public async Task<OpenPage> Open(string file, int width = 1280, int height = 900, bool scripts = true)
    {
        Assert.SkipWhen(_browser is null, "no Chromium here: Debian has chromium");
        var context = await _browser.NewContextAsync(new()
        {
            ViewportSize = new() { Width = width, Height = height },
            AcceptDownloads = true,
            JavaScriptEnabled = scripts,
            Offline = !file.StartsWith("http", StringComparison.Ordinal),
            Locale = "en-GB"
        });
        var page = await context.NewPageAsync();
        page.SetDefaultTimeout(30_000);
        var opened = new OpenPage(context, page);
        page.Request += (_, request) => opened.Requests.Add(request.Url);
        page.Console += (_, message) => { if (message.Type is "error" or "warning") opened.Complaints.Add(message.Text); };
        page.Dialog += (_, dialog) => { opened.Dialogs.Add(dialog.Message); _ = dialog.DismissAsync(); };
        page.PageError += (_, error) => opened.Complaints.Add(error);
        await page.GotoAsync(new Uri(file).AbsoluteUri);
        return opened;
    }
}

/// <summary>A page that is open in a test.</summary>
public sealed class OpenPage(IBrowserContext context, IPage page) : IAsyncDisposable
{
    public IPage Page => page;

    /// <summary>Every address that the page asked for, itself first.</summary>
    public List<string> Requests { get; } = [];

    /// <summary>Errors and warnings of the console, breaches of the page's policy among them.</summary>
    public List<string> Complaints { get; } = [];

    /// <summary>Every dialog that the page opened; each was dismissed.</summary>
    public List<string> Dialogs { get; } = [];

    /// <summary>What axe finds against WCAG 2.2 A and AA and its best practices: rule and element, a line each.</summary>
    public async Task<string[]> Violations()
    {
        var result = await page.RunAxe(new AxeRunOptions
        {
            RunOnly = new RunOnlyOptions
            {
                Type = "tag",
                Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
            }
        });
        Assert.NotEmpty(result.Passes);
        return [.. result.Violations.SelectMany(rule => rule.Nodes.Select(node => $"{rule.Id}: {node.Html}"))];
    }

    public Task Screenshot(string file) => page.ScreenshotAsync(new() { Path = file, FullPage = true });

    public async ValueTask DisposeAsync() => await context.DisposeAsync();
}
