using System.Collections.Concurrent;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

using SkiaSharp;

namespace DmxProbe.Tests.Browser;

/// <summary>A page that was opened from disk, and everything it said and asked for meanwhile.</summary>
internal sealed partial class BrowserPage : IAsyncDisposable
{
    private const int WindowHeight = 900;
    private readonly DevTools _tools;
    private readonly string _target;
    private readonly string _session;
    private readonly ConcurrentDictionary<string, string> _requests = [];
    private readonly TaskCompletionSource _loaded = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private BrowserPage(DevTools tools, string target, string session)
    {
        (_tools, _target, _session) = (tools, target, session);
        _tools.Happened += Take;
    }

    /// <summary>Errors, warnings and dialogues, as the browser told them.</summary>
    public ConcurrentQueue<string> Said { get; } = [];

    /// <summary>Addresses it asked for and its policy let it ask for.</summary>
    public IReadOnlyCollection<string> Requests => [.. _requests.Values];

    public static async Task<BrowserPage> Open(DevTools tools, string path, PageLook look)
    {
        string target = (await tools.Ask("Target.createTarget", new { url = "about:blank" })).GetProperty("targetId").GetString()!;
        string session = (await tools.Ask("Target.attachToTarget", new { targetId = target, flatten = true })).GetProperty("sessionId").GetString()!;
        BrowserPage page = new(tools, target, session);
        foreach (string domain in new[] { "Page", "Runtime", "Log", "Network" })
        {
            await page.Ask(domain + ".enable");
        }

        await page.Ask("Emulation.setScriptExecutionDisabled", new { value = !look.Scripts });
        await page.Ask("Emulation.setDeviceMetricsOverride", new { width = look.Width, height = WindowHeight, deviceScaleFactor = 1, mobile = look.Width < 600 });
        await page.Ask("Emulation.setEmulatedMedia", new { features = new[] { new { name = "prefers-color-scheme", value = look.Dark ? "dark" : "light" } } });
        await page.Ask("Page.navigate", new { url = new Uri(path).AbsoluteUri });
        await page._loaded.Task.WaitAsync(TimeSpan.FromSeconds(60));
        return page;
    }

    /// <summary>What an expression is worth in the page; runs where the page's own scripts do not.</summary>
    public async Task<JsonElement> Value(string expression)
    {
        JsonElement answer = await Ask("Runtime.evaluate", new { expression, returnByValue = true, awaitPromise = true });
        Assert.False(answer.TryGetProperty("exceptionDetails", out JsonElement wrong), wrong.ToString());
        return answer.GetProperty("result").TryGetProperty("value", out JsonElement value) ? value : default;
    }

    /// <summary>The picture of a part of the page.</summary>
    public async Task<SKBitmap> Shot(double left, double top, double width, double height)
    {
        JsonElement answer = await Ask("Page.captureScreenshot", new { format = "png", captureBeyondViewport = true, clip = new { x = left, y = top, width, height, scale = 1 } });
        return SKBitmap.Decode(answer.GetProperty("data").GetBytesFromBase64());
    }

    /// <summary>How many sheets of paper (A4) it is printed on.</summary>
    public async Task<int> Sheets()
    {
        const double inch = 25.4;
        JsonElement answer = await Ask("Page.printToPDF", new { printBackground = false, paperWidth = 210 / inch, paperHeight = 297 / inch, marginTop = 0.4, marginBottom = 0.4, marginLeft = 0.4, marginRight = 0.4 });
        return SheetMark().Count(Encoding.Latin1.GetString(answer.GetProperty("data").GetBytesFromBase64()));
    }

    public async ValueTask DisposeAsync()
    {
        _tools.Happened -= Take;
        await _tools.Ask("Target.closeTarget", new { targetId = _target });
    }

    private Task<JsonElement> Ask(string method, object? parameters = null) => _tools.Ask(method, parameters, _session);

    private void Take(string session, string method, JsonElement parameters)
    {
        if (session != _session)
        {
            return;
        }

        switch (method)
        {
            case "Page.loadEventFired":
                _loaded.TrySetResult();
                break;
            case "Network.requestWillBeSent":
                _requests[parameters.GetProperty("requestId").GetString()!] = parameters.GetProperty("request").GetProperty("url").GetString()!;
                break;
            case "Network.loadingFailed" when parameters.TryGetProperty("blockedReason", out JsonElement why) && why.GetString() == "csp":
                _requests.TryRemove(parameters.GetProperty("requestId").GetString()!, out _);
                break;
            case "Runtime.consoleAPICalled" or "Runtime.exceptionThrown" or "Log.entryAdded" or "Page.javascriptDialogOpening":
                Said.Enqueue(method + " " + parameters);
                break;
        }
    }

    [GeneratedRegex(@"/Type\s*/Page\b")]
    private static partial Regex SheetMark();
}
