using System.Security.Cryptography;
using System.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>
/// The frame of a page: one file that asks the network for nothing. The content security policy allows exactly our style, our
/// script and pictures that are in the page; markup that should ever slip in through a name stays dead.
/// </summary>
internal static class HtmlShell
{
    private static readonly string Style = Resource("report.css");
    private static readonly string Script = Resource("report.js");

    /// <summary>Writes a page.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="title">Its title; may be untrusted.</param>
    /// <param name="body">Writes what is in it.</param>
    public static void Write(Stream output, string title, Action<HtmlWriter> body)
    {
        using HtmlWriter html = new(output);
        _ = html.Open("html", ("lang", "en"));
        html.Break();
        _ = html.Open("head");
        html.Empty("meta", ("charset", "utf-8"));
        html.Empty("meta", ("http-equiv", "Content-Security-Policy"), ("content", Policy()));
        html.Empty("meta", ("name", "viewport"), ("content", "width=device-width, initial-scale=1"));
        html.Empty("meta", ("name", "referrer"), ("content", "no-referrer"));
        html.Line("title", title);
        html.Raw("style", Style);
        _ = html.Close();
        html.Break();
        _ = html.Open("body");
        body(html);
        html.Raw("script", Script);
        _ = html.Close().Close();
        html.Break();
    }

    private static string Policy() =>
        $"default-src 'none'; img-src data:; style-src '{Hash(Style)}'; script-src '{Hash(Script)}'; base-uri 'none'; form-action 'none'";

    private static string Hash(string text) => "sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    private static string Resource(string name)
    {
        using StreamReader reader = new(typeof(HtmlShell).Assembly.GetManifestResourceStream(name)!);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }
}
