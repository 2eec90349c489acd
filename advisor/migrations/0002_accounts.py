"""Tokens by which programs act for people, and the handles of people's own parts."""

import django.core.validators
import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('advisor', '0001_studies'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='Handle',
            fields=[
                ('user', models.OneToOneField(help_text='Whose it is.', on_delete=django.db.models.deletion.CASCADE, primary_key=True, related_name='handle', serialize=False, to=settings.AUTH_USER_MODEL)),
                ('tag', models.CharField(help_text='Random letters and digits.', max_length=8, unique=True, validators=[django.core.validators.RegexValidator('^[a-z2-7]{8}$')])),
            ],
        ),
        migrations.CreateModel(
            name='ApiToken',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(help_text="What it is for, in its owner's words.", max_length=60)),
                ('digest', models.CharField(help_text='SHA-256 of the token.', max_length=64, unique=True)),
                ('prefix', models.CharField(help_text='Its first characters, to tell it by.', max_length=8, unique=True)),
                ('created_at', models.DateTimeField(help_text='When it was given out.')),
                ('expires_at', models.DateTimeField(help_text='When it stops working.')),
                ('last_used_at', models.DateTimeField(blank=True, help_text='When it was last used, to the hour.', null=True)),
                ('owner', models.ForeignKey(help_text='For whom it acts.', on_delete=django.db.models.deletion.CASCADE, related_name='api_tokens', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'verbose_name': 'API token',
                'ordering': ['-created_at', 'prefix'],
                'indexes': [models.Index(fields=['owner', '-created_at', 'prefix'], name='api_token_of_owner')],
                'constraints': [models.CheckConstraint(condition=models.Q(('expires_at__gt', models.F('created_at'))), name='api_token_expires_after_it_begins')],
            },
        ),
    ]
