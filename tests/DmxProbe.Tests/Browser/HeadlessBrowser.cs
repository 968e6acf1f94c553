using System.Diagnostics;
using System.Text.RegularExpressions;

namespace DmxProbe.Tests.Browser;

/// <summary>A browser without a window, started once for all tests of the class; none where the machine has none.</summary>
public sealed partial class HeadlessBrowser : IAsyncLifetime
{
    private static readonly string[] Names = ["chromium-headless-shell", "chromium", "chromium-browser"];
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);
    private readonly string _profile = Directory.CreateTempSubdirectory("dmxprobe-browser-").FullName;
    private Process? _process;

    /// <summary>Why there is none; empty when there is one.</summary>
    public string Missing { get; private set; } = "";

    internal DevTools Tools { get; } = new();

    public async Task InitializeAsync()
    {
        string? path = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
            .SelectMany(folder => Names.Select(name => Path.Combine(folder, name))).FirstOrDefault(File.Exists);
        if (path is null || !OperatingSystem.IsLinux())
        {
            Missing = $"no browser: none of {string.Join(", ", Names)} is installed (on Debian: apt-get install chromium-headless-shell)";
            return;
        }

        ProcessStartInfo start = new(path)
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            ArgumentList =
            {
                "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run", "--disable-background-networking",
                "--disable-component-update", "--hide-scrollbars", "--remote-debugging-port=0", "--user-data-dir=" + _profile, "about:blank",
            },
        };
        _process = Process.Start(start)!;
        using CancellationTokenSource late = new(Patience);
        while (await _process.StandardError.ReadLineAsync(late.Token) is string line)
        {
            if (Listening().Match(line) is { Success: true } found)
            {
                // Read on, or the browser stops when the pipe is full.
                _process.ErrorDataReceived += (_, _) => { };
                _ = Task.Run(() => _process.StandardError.ReadToEnd());
                _ = Task.Run(() => _process.StandardOutput.ReadToEnd());
                await Tools.Connect(new Uri(found.Groups[1].Value));
                return;
            }
        }

        Missing = "the browser ended before it listened";
    }

    /// <summary>Opens a page from disk.</summary>
    /// <param name="path">The file.</param>
    /// <param name="asked">How it is looked at.</param>
    internal Task<BrowserPage> Open(string path, PageLook asked) => BrowserPage.Open(Tools, path, asked);

    public async Task DisposeAsync()
    {
        await Tools.DisposeAsync();
        if (_process is not null)
        {
            _process.Kill(entireProcessTree: true);
            await _process.WaitForExitAsync();
            _process.Dispose();
        }

        try
        {
            Directory.Delete(_profile, recursive: true);
        }
        catch (IOException)
        {
            // A child of the browser was still writing: the system's temporary folder is emptied by others.
        }
    }

    [GeneratedRegex("DevTools listening on (ws://.*)$")]
    private static partial Regex Listening();
}
